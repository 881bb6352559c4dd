"""Mass and balance of a bridge by integrals round its rings; the waist divides them by clipping."""

from dataclasses import dataclass

import numpy as np

from purfling.craft.bridge.rings import Points, Rings
from purfling.craft.bridge.thickness import Thickness

PIECE = 0.5  # mm: longest piece of an edge between two rows of Gauss points
_GAUSS_X, _GAUSS_W = np.polynomial.legendre.leggauss(4)


@dataclass(frozen=True)
class Mass:
    """``volume_mm3``, ``mass_g`` and the ``centre_mm`` (x, y) of the mass."""

    volume_mm3: float
    mass_g: float
    centre_mm: tuple[float, float]


def _sums(ring: Points, thickness: Thickness) -> np.ndarray:
    """Integrals of h, x h, y h over a ring's inside, by Green: the closed integral of -F dx."""
    after = np.roll(ring, -1, axis=0)
    step = after - ring
    n = np.maximum(1, np.ceil(np.abs(step[:, 0]) / PIECE).astype(int))
    edge = np.repeat(np.arange(len(ring)), n)
    part = np.arange(len(edge)) - np.repeat(np.cumsum(n) - n, n)
    t = (part[:, None] + (1 + _GAUSS_X) / 2) / n[edge, None]
    weight = _GAUSS_W / 2 / n[edge, None] * step[edge, 0, None]
    x = ring[edge, 0, None] + t * step[edge, 0, None]
    y = ring[edge, 1, None] + t * step[edge, 1, None]
    first = thickness.area(x, y)
    return -np.array(
        [np.sum(weight * first), np.sum(weight * x * first), np.sum(weight * thickness.moment(x, y))]
    )


def clipped(ring: Points, height_mm: float, above: bool) -> Points:
    """The part of a ring above (or below) a height [mm]; pieces stay joined along the line of the cut."""
    sign = 1.0 if above else -1.0
    out: list[tuple[float, float]] = []
    for (x1, y1), (x2, y2) in zip(ring, np.roll(ring, -1, axis=0), strict=True):
        d1, d2 = sign * (y1 - height_mm), sign * (y2 - height_mm)
        if d1 >= 0:
            out.append((x1, y1))
        if (d1 > 0 > d2) or (d1 < 0 < d2):
            out.append((x1 + (x2 - x1) * d1 / (d1 - d2), height_mm))
    return np.array(out, dtype=float).reshape(-1, 2)


def weighed(
    rings: Rings,
    thickness: Thickness,
    density_kg_m3: float,
    height_mm: float | None = None,
    above: bool = True,
) -> Mass:
    """Mass and centre of a bridge, or of its part above or below a height.

    Parameters
    ----------
    rings : Rings
    thickness : Thickness
        [mm]
    density_kg_m3 : float
        [kg/m3]
    height_mm : float, optional
        Line of the cut over the foot line [mm]; without it the whole.
    above : bool
        Which part.

    Returns
    -------
    Mass
        Volume [mm3], mass [g], centre (x, y) [mm].

    Notes
    -----
    Green's theorem with F the exact integral of h in y: V = -closed integral of F dx; a hole runs the
    other way and takes itself off.
    """
    total = np.zeros(3)
    for ring in rings.every:
        part = ring if height_mm is None else clipped(ring, height_mm, above)
        if len(part) >= 3:
            total += _sums(part, thickness)
    volume = float(total[0])
    centre = (float(total[1] / volume), float(total[2] / volume)) if volume > 0 else (0.0, 0.0)
    return Mass(volume, volume * density_kg_m3 * 1e-6, centre)


def changed(base: Mass, before: Mass, after: Mass) -> Mass:
    """A mass with the difference of two others put on it: what a cut leaves of the finely drawn bridge."""
    mass = base.mass_g + after.mass_g - before.mass_g
    x, y = (
        (
            base.mass_g * base.centre_mm[k]
            + after.mass_g * after.centre_mm[k]
            - before.mass_g * before.centre_mm[k]
        )
        / mass
        for k in (0, 1)
    )
    return Mass(base.volume_mm3 + after.volume_mm3 - before.volume_mm3, mass, (x, y))


def fitted_density(volume_mm3: float, mass_g: float) -> float:
    """Density [kg/m3] that gives the weighed mass [g] to the computed volume [mm3]."""
    return mass_g / volume_mm3 * 1e6
