"""The stick as a tapered beam: deflection, buckling, hair pull, free vibration.

Euler-Bernoulli elements with Hermite shapes; the bending stiffness varies inside each element and is
integrated at four Gauss points. Lengths mm, forces N, modulus MPa (N/mm2).
"""

import math
from dataclasses import dataclass

import numpy as np

from purfling.craft.bow.stick import Stick
from purfling.craft.bow.taper import Floats
from purfling.craft.refusals import Refusal

ELEMENTS = 400
_POINTS, _WEIGHTS = np.polynomial.legendre.leggauss(4)
_S = (_POINTS + 1) / 2  # 0 to 1 along an element
_W = _WEIGHTS / 2
_BAND = 3


def nodes_between(low_mm: float, high_mm: float, through_mm: tuple[float, ...], elements: int) -> Floats:
    """About ``elements`` + 1 nodes from ``low_mm`` to ``high_mm``, some of them at ``through_mm``."""
    even = np.linspace(low_mm, high_mm, elements + 1)
    step = (high_mm - low_mm) / elements
    inner = [p for p in through_mm if low_mm < p < high_mm]
    for place in inner:
        # The nearest even node moves there; the mesh stays as fine as asked.
        even[round((place - low_mm) / step)] = place
    even[0], even[-1] = low_mm, high_mm
    return np.unique(np.concatenate((even, inner)))


def _band(blocks: Floats) -> Floats:
    """Element matrices (n, 4, 4) -> the upper band of their sum."""
    n = len(blocks)
    band = np.zeros((_BAND + 1, 2 * n + 2))
    for a in range(4):
        for b in range(a, 4):
            band[_BAND + a - b, b : b + 2 * n : 2] += blocks[:, a, b]
    return band


def _shape(h: Floats, order: int) -> Floats:
    """Hermite shapes (order 0), slopes (1) or curvatures (2) at the Gauss points: (n, points, 4)."""
    s = _S[None, :]
    one = np.ones_like(h)[:, None]
    length = h[:, None]
    if order == 0:
        rows = (
            (1 - 3 * s**2 + 2 * s**3) * one,
            (s - 2 * s**2 + s**3) * length,
            (3 * s**2 - 2 * s**3) * one,
            (s**3 - s**2) * length,
        )
    elif order == 1:
        rows = (
            (6 * s**2 - 6 * s) / length,
            (1 - 4 * s + 3 * s**2) * one,
            (6 * s - 6 * s**2) / length,
            (3 * s**2 - 2 * s) * one,
        )
    else:
        rows = (
            (12 * s - 6) / length**2,
            (6 * s - 4) / length,
            (6 - 12 * s) / length**2,
            (6 * s - 2) / length,
        )
    return np.stack(rows, axis=-1)


def _blocks(nodes: Floats, weight: Floats, order: int) -> Floats:
    """Sum over the Gauss points of weight * N N^T * h."""
    h = np.diff(nodes)
    shape = _shape(h, order)
    return np.asarray(np.einsum("eg,egi,egj->eij", weight * _W * h[:, None], shape, shape))


def _inside(nodes: Floats) -> Floats:
    return np.asarray(nodes[:-1, None] + np.diff(nodes)[:, None] * _S)


def stiffness(stick: Stick, nodes: Floats, modulus_mpa: float) -> Floats:
    """Band of the bending stiffness at ``nodes`` [mm]."""
    return _band(_blocks(nodes, modulus_mpa * stick.bending(_inside(nodes)), 2))


def geometric(nodes: Floats) -> Floats:
    """Band of the geometric stiffness of a unit thrust."""
    return _band(_blocks(nodes, np.ones((len(nodes) - 1, len(_S))), 1))


def _pin(band: Floats, dof: int) -> None:
    """Hold a degree of freedom at nothing."""
    for k in range(_BAND + 1):
        if dof - k >= 0:
            band[_BAND - k, dof] = 0.0
        if dof + k < band.shape[1]:
            band[_BAND - k, dof + k] = 0.0
    band[_BAND, dof] = 1.0


def _node(nodes: Floats, place: float) -> int:
    return int(np.argmin(np.abs(nodes - place)))


def deflection_per_n(
    stick: Stick,
    supports_mm: tuple[float, float],
    load_at_mm: float,
    modulus_mpa: float,
    elements: int = ELEMENTS,
) -> float:
    """Deflection under a load of 1 N on two supports [mm/N].

    Raises
    ------
    Refusal
        Supports or load outside the stick, or no length between the supports.
    """
    from scipy.linalg import solveh_banded

    low, high = sorted(supports_mm)
    for place in (low, high, load_at_mm):
        if not stick.start_mm - 1e-9 <= place <= stick.end_mm + 1e-9:
            raise Refusal("bow.outside_stick", value=place, low=stick.start_mm, high=stick.end_mm)
    if high - low < 1.0:
        raise Refusal("bow.no_span", first=low, second=high)
    ends = min(low, load_at_mm), max(high, load_at_mm)
    nodes = nodes_between(ends[0], ends[1], (low, high, load_at_mm), elements)
    band = stiffness(stick, nodes, modulus_mpa)
    for support in (low, high):
        _pin(band, 2 * _node(nodes, support))
    force = np.zeros(band.shape[1])
    place = 2 * _node(nodes, load_at_mm)
    force[place] = 1.0
    if load_at_mm in (low, high):
        return 0.0
    return float(solveh_banded(band, force)[place])


def cantilever_per_n(stick: Stick, modulus_mpa: float, elements: int = ELEMENTS) -> float:
    """Deflection of the tip under 1 N, held fast at the stick's start [mm/N]."""
    from scipy.linalg import solveh_banded

    nodes = nodes_between(stick.start_mm, stick.end_mm, (), elements)
    band = stiffness(stick, nodes, modulus_mpa)
    _pin(band, 0)
    _pin(band, 1)
    force = np.zeros(band.shape[1])
    force[-2] = 1.0
    return float(solveh_banded(band, force)[-2])


def buckling_n(stick: Stick, modulus_mpa: float, elements: int = ELEMENTS) -> float:
    """Thrust at which the straight stick buckles between hinged ends [N].

    Equation: least P of K u = P G u, by inverse iteration from a half sine.
    """
    from scipy.linalg import cho_solve_banded, cholesky_banded

    nodes = nodes_between(stick.start_mm, stick.end_mm, (), elements)
    bending, thrust = stiffness(stick, nodes, modulus_mpa), geometric(nodes)
    ends = (0, 2 * len(nodes) - 2)
    for dof in ends:
        _pin(bending, dof)
        _pin(thrust, dof)
        thrust[_BAND, dof] = 0.0
    factor = cholesky_banded(bending)
    span = nodes[-1] - nodes[0]
    u = np.zeros(bending.shape[1])
    u[::2] = np.sin(math.pi * (nodes - nodes[0]) / span)
    u[1::2] = math.pi / span * np.cos(math.pi * (nodes - nodes[0]) / span)
    found = 0.0
    for _ in range(60):
        pushed = _times(thrust, u)
        u = cho_solve_banded((factor, False), pushed)
        new = float(u @ pushed) / float(u @ _times(thrust, u))
        u /= np.abs(u).max()
        if abs(new - found) <= 1e-13 * abs(new):
            return new
        found = new
    return found


def _times(band: Floats, u: Floats) -> Floats:
    """Symmetric band times vector."""
    out = band[_BAND] * u
    for k in range(1, _BAND + 1):
        off = band[_BAND - k, k:]
        out[:-k] += off * u[k:]
        out[k:] += off * u[:-k]
    return np.asarray(out)


@dataclass(frozen=True)
class Pulled:
    """The stick under the pull of its hair: how far it moves away from the hair at ``nodes_mm`` [mm]."""

    nodes_mm: Floats
    rise_mm: Floats


def hair_pull(
    stick: Stick,
    modulus_mpa: float,
    tension_n: float,
    levers_mm: tuple[float, float],
    camber_mm: tuple[Floats, Floats] | None = None,
    elements: int = ELEMENTS,
) -> Pulled:
    """How far hair tension straightens the stick, ends hinged; positive is away from the hair.

    Parameters
    ----------
    stick : Stick
        The stick.
    modulus_mpa : float
        Young's modulus [MPa].
    tension_n : float
        Hair tension [N]; must lie below ``buckling_n``.
    levers_mm : (float, float)
        Stick's axis to the hair at the frog and at the head [mm].
    camber_mm : (places, depths) or None
        Camber towards the hair [mm], with its ends at nothing.

    Equation: (K - T G) u = T G y0 + T h, y0 = -camber. Dropping the geometric term is badly wrong above 20 N.
    """
    from scipy.linalg import solveh_banded

    nodes = nodes_between(stick.start_mm, stick.end_mm, (), elements)
    thrust = geometric(nodes)
    band = stiffness(stick, nodes, modulus_mpa) - tension_n * thrust
    force = np.zeros(band.shape[1])
    if camber_mm is not None:
        first = np.zeros(band.shape[1])
        depth = np.interp(nodes, camber_mm[0], camber_mm[1])
        first[::2] = -depth
        first[1::2] = -np.gradient(depth, nodes)
        force += tension_n * _times(thrust, first)
    force[1] += tension_n * levers_mm[0]
    force[-1] -= tension_n * levers_mm[1]
    for dof in (0, len(force) - 2):
        _pin(band, dof)
        force[dof] = 0.0
    try:
        u = solveh_banded(band, force)
    except np.linalg.LinAlgError as beyond:
        raise Refusal("bow.beyond_buckling_pull", value=f"{tension_n:g}") from beyond
    return Pulled(nodes, np.asarray(u[::2]))


def free_frequency_hz(
    stick: Stick, modulus_mpa: float, density_kg_m3: float, elements: int = 60, mode: int = 1
) -> float:
    """Frequency of a free bending mode of the bare stick [Hz]; mode 1 is the lowest.

    Validity: a bare stick without head and frog.
    """
    from scipy.linalg import eigh

    nodes = nodes_between(stick.start_mm, stick.end_mm, (), elements)
    inside = _inside(nodes)
    size = 2 * len(nodes)
    matrices = []
    for weight, order in ((modulus_mpa * stick.bending(inside), 2), (stick.area(inside), 0)):
        full = np.zeros((size, size))
        for e, block in enumerate(_blocks(nodes, weight, order)):
            full[2 * e : 2 * e + 4, 2 * e : 2 * e + 4] += block
        matrices.append(full)
    # mm, N: density in t/mm3 = kg/m3 * 1e-12. Lengths are scaled so that both matrices are well balanced.
    values = eigh(
        matrices[0], matrices[1] * density_kg_m3 * 1e-12, eigvals_only=True, subset_by_index=[0, mode + 1]
    )
    return math.sqrt(float(values[mode + 1])) / (2 * math.pi)
