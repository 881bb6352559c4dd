"""The inverse: which wire and which length bring a bow to a wished weight and balance."""

import math
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from purfling.craft.bow.balance import WholeBow
from purfling.craft.bow.lapping import Handle, Lapping
from purfling.craft.bow.taper import Floats
from purfling.craft.bow.wire import Material

# One gram counts like two millimetres of balance: about what one gram of lapping does.
MM_PER_G = 2.0


@dataclass(frozen=True)
class Bounds:
    """What may be wound: least and most wire [mm], least and most length [mm]."""

    wire_mm: tuple[float, float]
    length_mm: tuple[float, float]


@dataclass(frozen=True)
class Reached:
    """A lapping and the bow it makes; ``miss_g`` and ``miss_mm`` against the wish (reached less wished)."""

    material: Material
    wire_mm: float
    length_mm: float
    mass_g: float
    bow: WholeBow
    miss_g: float
    miss_mm: float

    @property
    def miss(self) -> float:
        """How far the wish is missed [g], a millimetre of balance for half a gram."""
        return math.hypot(self.miss_g, self.miss_mm / MM_PER_G)


@dataclass(frozen=True)
class Wish:
    """What is wished: mass [g], balance from the stick's end [mm]; None where it does not matter."""

    mass_g: float | None
    at_mm: float | None


def lapping_mass(wire_mm: Floats, length_mm: Floats, handle: Handle, density_kg_m3: float) -> Floats:
    """Mass [g] of close round lappings, array-wise."""
    turn = np.hypot(handle.girth_mm + math.pi * wire_mm, wire_mm)
    return np.asarray(length_mm * turn * math.pi * wire_mm / 4 * density_kg_m3 * 1e-6)


def relapped(bare: WholeBow, mass_g: Floats, from_mm: float, length_mm: Floats) -> tuple[Floats, Floats]:
    """Mass [g] and balance [mm] of a bare bow with lappings that start at ``from_mm``."""
    whole = bare.mass_g + mass_g
    return whole, (bare.mass_g * bare.at_mm + mass_g * (from_mm + length_mm / 2)) / whole


def _exact(
    bare: WholeBow, wish: Wish, handle: Handle, from_mm: float, density: float
) -> tuple[float, float] | None:
    """Wire and length that meet mass and balance at once, or None: two equations, two unknowns."""
    if wish.mass_g is None or wish.at_mm is None:
        return None
    mass = wish.mass_g - bare.mass_g
    if mass <= 0:
        return None
    length = 2 * ((wish.mass_g * wish.at_mm - bare.mass_g * bare.at_mm) / mass - from_mm)
    if length <= 0:
        return None
    low, high = 0.0, 2.0
    for _ in range(60):
        middle = (low + high) / 2
        if Lapping(middle, length, handle, density).mass_g < mass:
            low = middle
        else:
            high = middle
    return (low + high) / 2, length


def _misses(wish: Wish, mass: Floats, at: Floats) -> Floats:
    miss = np.zeros(np.broadcast(mass, at).shape)
    if wish.mass_g is not None:
        miss = miss + (mass - wish.mass_g) ** 2
    if wish.at_mm is not None:
        miss = miss + ((at - wish.at_mm) / MM_PER_G) ** 2
    return miss


def _nearest(
    bare: WholeBow, wish: Wish, handle: Handle, from_mm: float, density: float, bounds: Bounds
) -> tuple[float, float]:
    """The lapping within bounds that misses least: a grid, made finer about its best point."""
    (w0, w1), (l0, l1) = bounds.wire_mm, bounds.length_mm
    wire, length = w0, l0
    for _ in range(8):
        wires = np.linspace(w0, w1, 33)[:, None]
        lengths = np.linspace(l0, l1, 33)[None, :]
        mass, at = relapped(bare, lapping_mass(wires, lengths, handle, density), from_mm, lengths)
        best = np.unravel_index(int(np.argmin(_misses(wish, mass, at))), (33, 33))
        wire, length = float(wires[best[0], 0]), float(lengths[0, best[1]])
        dw, dl = (w1 - w0) / 16, (l1 - l0) / 16
        w0, w1 = max(wire - dw, bounds.wire_mm[0]), min(wire + dw, bounds.wire_mm[1])
        l0, l1 = max(length - dl, bounds.length_mm[0]), min(length + dl, bounds.length_mm[1])
    return wire, length


def search(
    bare: WholeBow,
    wish: Wish,
    handle: Handle,
    from_mm: float,
    choices: Iterable[Material],
    bounds: Bounds,
) -> list[Reached]:
    """For each material the lapping that comes nearest to a wish, the nearest first.

    Parameters
    ----------
    bare : WholeBow
        The bow without a lapping, from the stick's end.
    wish : Wish
        Mass and balance wished.
    handle : Handle
        The stick under the lapping.
    from_mm : float
        Start of the lapping [mm].
    choices : iterable of Material
        What may be wound.
    bounds : Bounds
        Wire and length that may be wound.

    Equation: m = M* - M, x_lap = (M* x* - M x) / m give length and wire; where they lie outside the
    bounds the least of miss_g^2 + (miss_mm / 2)^2 within them.
    """
    found = []
    for one in choices:
        pair = _exact(bare, wish, handle, from_mm, one.density_kg_m3)
        if pair is None or not (
            bounds.wire_mm[0] <= pair[0] <= bounds.wire_mm[1]
            and bounds.length_mm[0] <= pair[1] <= bounds.length_mm[1]
        ):
            pair = _nearest(bare, wish, handle, from_mm, one.density_kg_m3, bounds)
        lapping = Lapping(pair[0], pair[1], handle, one.density_kg_m3)
        whole, at = relapped(bare, np.asarray(lapping.mass_g), from_mm, np.asarray(pair[1]))
        bow = WholeBow(float(whole), float(at))
        miss_g = 0.0 if wish.mass_g is None else bow.mass_g - wish.mass_g
        miss_mm = 0.0 if wish.at_mm is None else bow.at_mm - wish.at_mm
        found.append(Reached(one, pair[0], pair[1], lapping.mass_g, bow, miss_g, miss_mm))
    # Misses within a milligram count alike, so that the order of the table decides between them.
    return sorted(found, key=lambda r: round(r.miss, 3))


def region(
    bare: WholeBow, handle: Handle, from_mm: float, density_kg_m3: float, bounds: Bounds, n: int = 13
) -> list[tuple[float, float]]:
    """Outline of what can be reached with one material: (mass [g], balance [mm]) around the bounds."""
    (w0, w1), (l0, l1) = bounds.wire_mm, bounds.length_mm
    t = np.linspace(0.0, 1.0, n)
    wire = np.concatenate((w0 + (w1 - w0) * t, np.full(n, w1), w1 + (w0 - w1) * t, np.full(n, w0)))
    length = np.concatenate((np.full(n, l0), l0 + (l1 - l0) * t, np.full(n, l1), l1 + (l0 - l1) * t))
    mass, at = relapped(bare, lapping_mass(wire, length, handle, density_kg_m3), from_mm, length)
    return [(float(m), float(x)) for m, x in zip(mass, at, strict=True)]
