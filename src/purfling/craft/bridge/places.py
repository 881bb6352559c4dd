"""The places of a bridge found from its outline: legs, ankles, waist, heart, kidneys, crown."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from purfling.craft.bridge.rings import Points, Rings, signed_area, standing

HEIGHTS = 400
WAIST_LEAST = 1.05  # the outline must be this much wider below and above
CROWN_FROM = 0.5  # of the height
CROWN_SLOPE = 0.9  # steeper than this the edge is a shoulder
GROOVE = 0.06  # of the height: the deepest string groove


@dataclass(frozen=True)
class Legs:
    """``middle_mm`` x between the feet, ``arch_mm`` height of the arch there; ``ankles`` for bass and
    treble leg (height, inner x, outer x) [mm]."""

    middle_mm: float
    arch_mm: float
    ankles: tuple[tuple[float, float, float], tuple[float, float, float]]


@dataclass(frozen=True)
class Waist:
    """``height_mm`` over the foot line and the ``bass_mm`` and ``treble_mm`` edge there [mm]."""

    height_mm: float
    bass_mm: float
    treble_mm: float


def crossings(ring: Points, height_mm: float) -> NDArray[np.float64]:
    """x [mm] where a ring crosses a height, rising."""
    after = np.roll(ring, -1, axis=0)
    across = (ring[:, 1] <= height_mm) != (after[:, 1] <= height_mm)
    p, q = ring[across], after[across]
    return np.sort(p[:, 0] + (height_mm - p[:, 1]) * (q[:, 0] - p[:, 0]) / (q[:, 1] - p[:, 1]))


def spans(rings: Rings, height_mm: float) -> list[tuple[float, float]]:
    """Stretches of wood (from x, to x) [mm] at a height."""
    xs = np.sort(np.concatenate([crossings(r, height_mm) for r in rings.every]))
    return [(float(a), float(b)) for a, b in zip(xs[::2], xs[1::2], strict=False)]


def legs_of(rings: Rings) -> Legs | None:
    """The two legs, or None where the bridge stands on one sole or more than two."""
    soles = standing(rings.outer)
    if len(soles) != 2:
        return None
    middle = (soles[0][1] + soles[1][0]) / 2
    up = crossings(rings.outer[:, ::-1], middle)
    up = up[up > 0.05]
    if len(up) == 0:
        return None
    arch = float(up[0])
    found = []
    for bass in (True, False):
        rows = []
        for y in np.linspace(0.04 * arch, 0.94 * arch, 120):
            xs = crossings(rings.outer, float(y))
            xs = np.sort(np.abs(xs[(xs < middle) == bass] - middle))
            if len(xs) >= 2:
                rows.append((float(y), float(xs[0]), float(xs[1])))
        if not rows:
            return None
        k = int(np.argmin([outer - inner for _, inner, outer in rows]))
        if k in (0, len(rows) - 1):
            k = len(rows) // 2
        y, inner, outer = rows[k]
        sign = -1.0 if bass else 1.0
        found.append((y, middle + sign * inner, middle + sign * outer))
    return Legs(middle, arch, (found[0], found[1]))


def waist_of(rings: Rings) -> Waist | None:
    """The waist: the narrowest height above the arch with wider ones below and above, or None."""
    legs = legs_of(rings)
    top = rings.height
    heights = np.linspace(0.005 * top, 0.995 * top, HEIGHTS)
    ends = []
    for y in heights:
        xs = crossings(rings.outer, float(y))
        ends.append((xs[0], xs[-1]) if len(xs) else (0.0, 0.0))
    edge = np.array(ends)
    width = edge[:, 1] - edge[:, 0]
    below, above = np.maximum.accumulate(width), np.maximum.accumulate(width[::-1])[::-1]
    ratio = np.minimum(below, above) / np.maximum(width, 1e-9)
    ratio[heights <= (legs.arch_mm if legs else 0.0)] = 0.0
    best = float(ratio.max())
    if best < WAIST_LEAST:
        return None
    flat = np.flatnonzero(ratio >= best * 0.9995)
    run = flat[(flat - flat[0]) == np.arange(len(flat))]
    k = int(run[len(run) // 2])
    return Waist(float(heights[k]), float(edge[k, 0]), float(edge[k, 1]))


def heart_of(rings: Rings) -> int | None:
    """Number (from 0) of the hole that is the heart: the largest that crosses the middle line, or None."""
    soles = standing(rings.outer)
    middle = (soles[0][0] + soles[-1][1]) / 2
    found = [
        (abs(signed_area(hole)), -k)
        for k, hole in enumerate(rings.holes)
        if hole[:, 0].min() < middle < hole[:, 0].max()
    ]
    return -max(found)[1] if found else None


def edge_normals(ring: Points) -> Points:
    """Unit normals out of the wood of the edges from each point to the next, shape (n, 2)."""
    step = np.roll(ring, -1, axis=0) - ring
    return np.asarray(np.column_stack([step[:, 1], -step[:, 0]]) / np.hypot(*step.T)[:, None])


def crown_run(ring: Points) -> NDArray[np.int64]:
    """Positions of the outline's points along the crown, in the outline's order (treble to bass).

    From the highest point both ways while the edge looks up, falls no steeper than 0.9 and lies above half
    the height; string grooves (about 6 % of the height) are stepped over.
    """
    up = (edge_normals(ring)[:, 1] > 0.3) & (ring[:, 1] >= CROWN_FROM * ring[:, 1].max())
    top = int(np.argmax(ring[:, 1]))
    last = top + _along_crown(np.roll(ring, -top, axis=0), np.roll(up, -top))
    back, looks = np.roll(ring[::-1], top + 1, axis=0), np.roll(up[::-1], top)
    first = top - min(_along_crown(back, looks), len(ring) - (last - top) - 1)
    return np.arange(first, last + 1) % len(ring)


def _along_crown(ring: Points, up: NDArray[np.bool_]) -> int:
    """How many edges from the first point on are of the crown; ``up[k]``: edge k to k + 1 looks up."""
    reach = GROOVE * float(ring[:, 1].max())
    end = at = 0
    walked = 0.0
    while at + 1 < len(ring):
        aside, down = abs(ring[at + 1, 0] - ring[end, 0]), ring[end, 1] - ring[at + 1, 1]
        if up[at] and down <= CROWN_SLOPE * aside:
            end, walked = at + 1, 0.0
        else:
            walked += float(np.hypot(*(ring[at + 1] - ring[at])))
            if walked > 3 * reach:
                break
        at += 1
    return end
