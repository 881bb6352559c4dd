"""What a view of an object is: its lines in its own millimetres, its box, the way of a mark into it."""

import itertools
import math
from dataclasses import dataclass

from purfling.drawing.drawings.outline_curves import Warp
from purfling.drawing.shapes import Item, Point

# Length of body or stick, upper, middle, lower bout, stop, ribs, arch [mm] where an object's own are
# not known: common practice, no source.
USUAL = {
    "violin": (355.0, 167.0, 110.0, 207.0, 195.0, 30.5, 15.5),
    "viola": (410.0, 190.0, 130.0, 243.0, 222.0, 37.0, 18.0),
    "cello": (755.0, 343.0, 230.0, 438.0, 402.0, 116.0, 26.0),
}
BOW_LENGTH = {"violin": 745.0, "viola": 742.0, "cello": 715.0}


@dataclass(frozen=True)
class ObjectShape:
    """The dimensions an outline is drawn from [mm]; ``back`` is "one" or "two" pieces."""

    family: str
    is_bow: bool
    length: float
    upper: float = 0.0
    middle: float = 0.0
    lower: float = 0.0
    stop: float = 0.0
    ribs: float = 0.0
    arch: float = 0.0
    back: str = "two"


def object_shape(
    family: str,
    is_bow: bool = False,
    length: float | None = None,
    upper: float | None = None,
    lower: float | None = None,
    stop: float | None = None,
    back: str = "two",
) -> ObjectShape:
    """The shape of an object; a dimension that is not known is the usual one, scaled by the length."""
    if is_bow:
        return ObjectShape(family, True, length or BOW_LENGTH[family])
    usual = USUAL[family]
    own = length or usual[0]
    u, m, w, st, ribs, arch = (value * own / usual[0] for value in usual[1:])
    given_u, given_w = upper or u, lower or w
    waist = m * (given_u / u + given_w / w) / 2
    return ObjectShape(
        family, False, own, given_u, min(waist, given_u * 0.9), given_w, stop or st, ribs, arch, back or "two"
    )


@dataclass(frozen=True)
class View:
    """One view: ``box`` (x0, y0, x1, y1) [mm], ``items`` its lines, ``edges`` the lines a run may follow."""

    name: str
    box: tuple[float, float, float, float]
    items: tuple[Item, ...]
    warp: Warp
    edges: tuple[tuple[Point, ...], ...] = ()

    def run(self, points: tuple[Point, ...], along_edge: bool) -> tuple[Point, ...]:
        """The line of a run through unit points, in the view's millimetres; along an edge it follows it."""
        placed = tuple(self.warp.to_mm(u, v) for u, v in points)
        if not along_edge or len(placed) < 2 or not self.edges:
            return placed
        edge = min(self.edges, key=lambda e: sum(_nearest(e, p)[1] for p in placed))
        found: list[Point] = []
        for first, second in itertools.pairwise(placed):
            found += _between(edge, _nearest(edge, first)[0], _nearest(edge, second)[0])
        return tuple(found)

    def length(self, points: tuple[Point, ...], along_edge: bool) -> float:
        """Length of a run [mm]; 0 for a point."""
        run = self.run(points, along_edge)
        return sum(math.dist(a, b) for a, b in itertools.pairwise(run))


def _nearest(edge: tuple[Point, ...], to: Point) -> tuple[float, float]:
    """Place along an edge (piece, and fraction within it) nearest to a point, and its distance."""
    best, place = math.inf, 0.0
    for i, ((ax, ay), (bx, by)) in enumerate(itertools.pairwise(edge)):
        dx, dy = bx - ax, by - ay
        square = dx * dx + dy * dy
        t = 0.0 if square == 0 else min(max(((to[0] - ax) * dx + (to[1] - ay) * dy) / square, 0.0), 1.0)
        distance = math.hypot(ax + t * dx - to[0], ay + t * dy - to[1])
        if distance < best:
            best, place = distance, i + t
    return place, best


def _at(edge: tuple[Point, ...], place: float) -> Point:
    i = min(int(place), len(edge) - 2)
    t = place - i
    (ax, ay), (bx, by) = edge[i], edge[i + 1]
    return (ax + (bx - ax) * t, ay + (by - ay) * t)


def _between(edge: tuple[Point, ...], a: float, b: float) -> list[Point]:
    """The edge from place a to place b; round a closed edge the shorter way."""
    there = _stretch(edge, a, b)
    if edge[0] != edge[-1]:
        return there
    low, high = min(a, b), max(a, b)
    other = [*_stretch(edge, high, len(edge) - 1), *_stretch(edge, 0, low)]
    if a < b:
        other.reverse()
    ways = (there, other)
    return min(ways, key=lambda w: sum(math.dist(p, q) for p, q in itertools.pairwise(w)))


def _stretch(edge: tuple[Point, ...], a: float, b: float) -> list[Point]:
    low, high = min(a, b), max(a, b)
    inner = [edge[i] for i in range(math.floor(low) + 1, math.ceil(high))]
    found = [_at(edge, low), *inner, _at(edge, high)]
    return found if a <= b else found[::-1]
