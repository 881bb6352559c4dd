"""Curves from which the outlines of instruments and bows are drawn, and warps between template and object."""

import bisect
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Protocol

from purfling.drawing.shapes import Item, Path, Pen, Point

Bend = tuple[Point, Point, Point]  # two control points and the end of a cubic piece

EDGE = Pen("ink", 0.45)
FINE = Pen("ink", 0.22)
HAIR = Pen("quiet", 0.14)
GHOST = Pen("quiet", 0.18, (1.6, 1.1))


def curve(start: Point, bends: Iterable[Bend], n: int = 14) -> list[Point]:
    """Points of a chain of cubic pieces, ``n`` a piece."""
    found = [start]
    for c1, c2, end in bends:
        x0, y0 = found[-1]
        for i in range(1, n + 1):
            t = i / n
            a, b, c, d = (1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3
            found.append(
                (a * x0 + b * c1[0] + c * c2[0] + d * end[0], a * y0 + b * c1[1] + c * c2[1] + d * end[1])
            )
    return found


def mirrored(points: Sequence[Point]) -> list[Point]:
    """The other half: x changes its sign, the order is reversed."""
    return [(-x, y) for x, y in reversed(points)]


def ellipse(cx: float, cy: float, rx: float, ry: float, n: int = 40) -> list[Point]:
    """Points of an upright ellipse, counter-clockwise from the right."""
    turns = [2 * math.pi * i / n for i in range(n)]
    return [(cx + rx * math.cos(a), cy + ry * math.sin(a)) for a in turns]


def offset(points: Sequence[Point], by: float) -> list[Point]:
    """A curve beside an open curve, ``by`` [mm] to its left."""
    found: list[Point] = []
    last = len(points) - 1
    for i, (x, y) in enumerate(points):
        (xa, ya), (xb, yb) = points[max(i - 1, 0)], points[min(i + 1, last)]
        length = math.hypot(xb - xa, yb - ya) or 1.0
        found.append((x - (yb - ya) / length * by, y + (xb - xa) / length * by))
    return found


def ribbon(points: Sequence[Point], widths: Sequence[float]) -> list[Point]:
    """A closed shape along a line whose width [mm] changes evenly through ``widths``."""
    n = len(points) - 1
    half: list[float] = []
    for i in range(n + 1):
        place = i / n * (len(widths) - 1)
        k = min(int(place), len(widths) - 2)
        half.append((widths[k] + (widths[k + 1] - widths[k]) * (place - k)) / 2)
    left = [offset(points, h)[i] for i, h in enumerate(half)]
    right = [offset(points, -h)[i] for i, h in enumerate(half)]
    return left + right[::-1]


def joined(first: Sequence[Point], second: Sequence[Point]) -> list[Point]:
    """Two offset curves brought to their mitre: cut where they cross, lengthened where they do not meet."""
    a, b = list(first), list(second)
    best: tuple[int, int, Point] | None = None
    long_a = [*a, _beyond(a[-2], a[-1])]
    long_b = [_beyond(b[1], b[0]), *b]
    for i in range(max(len(long_a) - 12, 0), len(long_a) - 1):
        for j in range(min(12, len(long_b) - 1)):
            met = _crossing(long_a[i], long_a[i + 1], long_b[j], long_b[j + 1])
            if met is not None and (best is None or i - j > best[0] - best[1]):
                best = (i, j, met)
    if best is None:
        return a + b
    i, j, met = best
    return [*long_a[: i + 1], met, *long_b[j + 1 :]]


def _beyond(before: Point, end: Point, by: float = 14.0) -> Point:
    dx, dy = end[0] - before[0], end[1] - before[1]
    length = math.hypot(dx, dy) or 1.0
    return (end[0] + dx / length * by, end[1] + dy / length * by)


def _crossing(a: Point, b: Point, c: Point, d: Point) -> Point | None:
    ax, ay, bx, by = a[0], a[1], b[0] - a[0], b[1] - a[1]
    cx, cy, dx, dy = c[0], c[1], d[0] - c[0], d[1] - c[1]
    det = bx * dy - by * dx
    if abs(det) < 1e-12:
        return None
    t = ((cx - ax) * dy - (cy - ay) * dx) / det
    s = ((cx - ax) * by - (cy - ay) * bx) / det
    return (ax + t * bx, ay + t * by) if 0 <= t <= 1 and 0 <= s <= 1 else None


def line(points: Sequence[Point], pen: Pen = FINE) -> Path:
    """An open line."""
    return Path(tuple(points), pen, smooth=True)


def shape(points: Sequence[Point], pen: Pen = EDGE, fill: str = "none") -> Path:
    """A closed line, filled or not."""
    return Path(tuple(points), pen, True, fill, smooth=True)  # type: ignore[arg-type]


def grown(items: Iterable[Item], scale: float) -> tuple[Item, ...]:
    """Lines grown or shrunk about the origin; their pens stay."""
    found: list[Item] = []
    for item in items:
        if not isinstance(item, Path):
            raise TypeError("outlines are lines alone")
        found.append(replace(item, points=tuple((x * scale, y * scale) for x, y in item.points)))
    return tuple(found)


class Warp(Protocol):
    """Between the unit coordinates (u, v), in which marks are kept, and a view's own millimetres."""

    def to_mm(self, u: float, v: float) -> Point:
        """(u, v) -> (x, y) [mm]."""

    def to_unit(self, x: float, y: float) -> Point:
        """(x, y) [mm] -> (u, v)."""


@dataclass(frozen=True)
class BoxWarp:
    """A view that only grows and shrinks: u and v run from 0 to 1 over a box [mm]."""

    x: float
    y: float
    width: float
    height: float
    flip: bool = False

    def to_mm(self, u: float, v: float) -> Point:
        """(u, v) -> (x, y) [mm]."""
        return (self.x + (1.0 - u if self.flip else u) * self.width, self.y + v * self.height)

    def to_unit(self, x: float, y: float) -> Point:
        """(x, y) [mm] -> (u, v)."""
        u = (x - self.x) / self.width
        return (1.0 - u if self.flip else u, (y - self.y) / self.height)


@dataclass(frozen=True)
class BodyWarp:
    """A plan of a body: v is led through its landmarks along the body, u follows its widths.

    ``along`` pairs v with y [mm], ``across`` pairs v with the breadth [mm] that u = 1 stands for. u is
    negative on the bass side whatever the side it is seen from; ``flip`` is the view from behind.
    """

    along: tuple[Point, ...]
    across: tuple[Point, ...]
    flip: bool = False

    def to_mm(self, u: float, v: float) -> Point:
        """(u, v) -> (x, y) [mm]."""
        x = u * _through(self.across, v)
        return (-x if self.flip else x, _through(self.along, v, beyond=True))

    def to_unit(self, x: float, y: float) -> Point:
        """(x, y) [mm] -> (u, v)."""
        v = _through(tuple((b, a) for a, b in self.along), y, beyond=True)
        return ((-x if self.flip else x) / _through(self.across, v), v)


@dataclass(frozen=True)
class RibWarp:
    """A body from the side: v as in the plan, u from the back's edge (0) to the belly's edge (1)."""

    along: tuple[Point, ...]
    breadth: float
    flip: bool = False

    def to_mm(self, u: float, v: float) -> Point:
        """(u, v) -> (x, y) [mm]."""
        x = (1.0 - u if self.flip else u) * self.breadth
        return (x, _through(self.along, v, beyond=True))

    def to_unit(self, x: float, y: float) -> Point:
        """(x, y) [mm] -> (u, v)."""
        v = _through(tuple((b, a) for a, b in self.along), y, beyond=True)
        u = x / self.breadth
        return (1.0 - u if self.flip else u, v)


def _through(pairs: tuple[Point, ...], at: float, beyond: bool = False) -> float:
    """Straight pieces through some pairs; beyond the ends level, or going on as the last piece goes."""
    k = bisect.bisect_right([a for a, _ in pairs], at)
    if (k == 0 or k == len(pairs)) and not beyond:
        return pairs[0][1] if k == 0 else pairs[-1][1]
    k = min(max(k, 1), len(pairs) - 1)
    (a0, b0), (a1, b1) = pairs[k - 1], pairs[k]
    return b0 + (b1 - b0) * (at - a0) / (a1 - a0)
