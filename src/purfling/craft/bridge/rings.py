"""The rings of a bridge: one outline and its holes, looked at before anything is computed from them."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from purfling.craft.refusals import Refusal

Points = NDArray[np.float64]  # shape (n, 2), mm

SHORTEST_EDGE = 0.005  # mm; shorter edges are dropped
FOOT_TOLERANCE = 0.02  # mm; points this near the foot line stand on it
LEAST_STANDING = 1.0  # mm of sole
MOST_POINTS = 20_000
FARTHEST = 400.0  # mm
LEAST_AREA = 0.05  # mm2


@dataclass(frozen=True, eq=False)
class Rings:
    """Closed rings in mm: y = 0 the foot line, x = 0 the middle, bass negative.

    ``outer`` (n, 2) runs counter-clockwise, each of ``holes`` clockwise; the last point is joined to the
    first.
    """

    outer: Points
    holes: tuple[Points, ...] = ()

    @property
    def every(self) -> tuple[Points, ...]:
        """The outline and the holes."""
        return (self.outer, *self.holes)

    @property
    def height(self) -> float:
        """Greatest height over the foot line [mm]."""
        return float(self.outer[:, 1].max())


def signed_area(points: Points) -> float:
    """Area of a ring [mm2], positive counter-clockwise."""
    x, y = points[:, 0], points[:, 1]
    return float(0.5 * np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y))


def cleaned(points: Points) -> Points:
    """The ring without edges shorter than 5 um (a last point equal to the first goes as well)."""
    step = np.hypot(*(points - np.roll(points, 1, axis=0)).T)
    kept: list[int] = []
    walked = math.inf
    for i in range(len(points)):
        walked = walked + float(step[i]) if kept else math.inf
        if walked >= SHORTEST_EDGE:
            kept.append(i)
            walked = 0.0
    if len(kept) > 1 and np.hypot(*(points[kept[-1]] - points[kept[0]])) < SHORTEST_EDGE:
        kept.pop()
    return points[kept]


def turned(points: Points, positive: bool) -> Points:
    """The ring running counter-clockwise (``positive``) or clockwise."""
    return points if (signed_area(points) > 0) == positive else points[::-1].copy()


def inside(points: Points, ring: Points) -> NDArray[np.bool_]:
    """Which points lie inside a ring (even-odd rule), shape (n,)."""
    x1, y1 = ring[:, 0], ring[:, 1]
    x2, y2 = np.roll(x1, -1), np.roll(y1, -1)
    rise = np.where(y2 == y1, 1.0, y2 - y1)
    found = np.empty(len(points), dtype=bool)
    for begin in range(0, len(points), 2000):
        px = points[begin : begin + 2000, 0, None]
        py = points[begin : begin + 2000, 1, None]
        across = (y1 <= py) != (y2 <= py)
        meet = x1 + (py - y1) * ((x2 - x1) / rise)
        found[begin : begin + 2000] = (np.count_nonzero(across & (px < meet), axis=1) % 2) == 1
    return found


def inside_rings(points: Points, rings: Rings) -> NDArray[np.bool_]:
    """Which points lie in the wood: inside the outline and in no hole, shape (n,)."""
    found = inside(points, rings.outer)
    for hole in rings.holes:
        found &= ~inside(points, hole)
    return found


def first_crossing(rings: Rings) -> tuple[float, float] | None:
    """A point [mm] where two edges cross or touch that do not follow each other, or None."""
    starts = np.vstack(rings.every)
    ends = np.vstack([np.roll(r, -1, axis=0) for r in rings.every])
    ring_of = np.repeat(np.arange(len(rings.every)), [len(r) for r in rings.every])
    place = np.concatenate([np.arange(len(r)) for r in rings.every])
    size = np.array([len(r) for r in rings.every])[ring_of]
    low, high = np.minimum(starts, ends), np.maximum(starts, ends)
    order = np.argsort(low[:, 0], kind="stable")
    reach = np.searchsorted(low[order, 0], high[order, 0], side="right")
    for begin in range(0, len(order), 1000):
        first = np.arange(begin, min(begin + 1000, len(order)))
        count = np.maximum(reach[first] - first - 1, 0)
        a = np.repeat(first, count)
        b = a + 1 + (np.arange(len(a)) - np.repeat(np.cumsum(count) - count, count))
        i, j = order[a], order[b]
        near = (low[i, 1] <= high[j, 1]) & (low[j, 1] <= high[i, 1])
        gap = (place[i] - place[j]) % size[i]
        near &= (ring_of[i] != ring_of[j]) | ((gap != 1) & (gap != size[i] - 1))
        i, j = i[near], j[near]
        met = _meet(starts[i], ends[i], starts[j], ends[j])
        if met.any():
            middle = (starts[i][met][0] + ends[i][met][0]) / 2
            return float(middle[0]), float(middle[1])
    return None


def _meet(a: Points, b: Points, c: Points, d: Points) -> NDArray[np.bool_]:
    def side(p: Points, q: Points, r: Points) -> NDArray[np.float64]:
        return np.asarray(
            (q[:, 0] - p[:, 0]) * (r[:, 1] - p[:, 1]) - (q[:, 1] - p[:, 1]) * (r[:, 0] - p[:, 0])
        )

    return (side(a, b, c) * side(a, b, d) <= 0) & (side(c, d, a) * side(c, d, b) <= 0)


def standing(outer: Points) -> list[tuple[float, float]]:
    """The soles: stretches (from x, to x) [mm] of the outline on the foot line, from bass to treble."""
    after = np.roll(outer, -1, axis=0)
    flat = (np.abs(outer[:, 1]) <= FOOT_TOLERANCE) & (np.abs(after[:, 1]) <= FOOT_TOLERANCE)
    pieces = sorted((min(p, q), max(p, q)) for p, q in zip(outer[flat, 0], after[flat, 0], strict=True))
    soles: list[tuple[float, float]] = []
    for low, high in pieces:
        if soles and low <= soles[-1][1] + FOOT_TOLERANCE:
            soles[-1] = (soles[-1][0], max(soles[-1][1], float(high)))
        else:
            soles.append((float(low), float(high)))
    return soles


def checked_rings(outer: Points, holes: tuple[Points, ...] = ()) -> Rings:
    """Rings that a bridge can be computed from.

    Parameters
    ----------
    outer : array (n, 2)
        The outline [mm].
    holes : tuple of arrays (n, 2)
        Heart and other openings that are closed all round [mm].

    Raises
    ------
    Refusal
        Too few or too many points, points far out, an outline that crosses or touches itself or a hole, a
        hole outside, feet that do not stand on the foot line.
    """
    found: list[Points] = []
    for number, ring in enumerate((outer, *holes)):
        points = np.asarray(ring, dtype=float)
        if len(points) > MOST_POINTS:
            raise Refusal("bridge.too_many_points", ring=number, value=len(points), limit=MOST_POINTS)
        if len(points) and np.abs(points).max() > FARTHEST:
            raise Refusal("bridge.far_out", ring=number, value=float(np.abs(points).max()), limit=FARTHEST)
        points = cleaned(points)
        if len(points) < 3:
            raise Refusal("bridge.no_ring", ring=number, value=len(points))
        found.append(turned(points, number == 0))
    rings = Rings(found[0], tuple(found[1:]))
    crossing = first_crossing(rings)
    if crossing is not None:
        raise Refusal("bridge.self_crossing", x=round(float(crossing[0]), 1), y=round(float(crossing[1]), 1))
    for number, ring in enumerate(rings.every):
        if abs(signed_area(ring)) < LEAST_AREA:
            raise Refusal("bridge.no_ring", ring=number, value=len(ring))
    for number, hole in enumerate(rings.holes, 1):
        if not inside(hole[:1], rings.outer)[0]:
            raise Refusal("bridge.hole_outside", ring=number)
    _check_standing(rings)
    return rings


def _check_standing(rings: Rings) -> None:
    lowest = float(rings.outer[:, 1].min())
    if abs(lowest) > FOOT_TOLERANCE:
        raise Refusal("bridge.off_the_foot_line", value=round(float(lowest), 2))
    soles = standing(rings.outer)
    length = sum(high - low for low, high in soles)
    if length < LEAST_STANDING:
        raise Refusal("bridge.feet_do_not_stand", value=round(float(length), 2), limit=LEAST_STANDING)
