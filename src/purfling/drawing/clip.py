"""Cutting items by two upright lines: what lies between x_low and x_high of a strip."""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from purfling.drawing.shapes import Arc, Circle, Group, Item, Line, Path, Point, Rect, Text


def _line(item: Line, low: float, high: float) -> list[Item]:
    x1, y1, x2, y2 = item.x1, item.y1, item.x2, item.y2
    if x1 == x2:
        return [item] if low <= x1 <= high else []
    if max(x1, x2) <= low or min(x1, x2) >= high:
        return []

    def at(x: float) -> Point:
        cut = min(max(x, low), high)
        return cut, y1 + (y2 - y1) * (cut - x1) / (x2 - x1)

    (ax, ay), (bx, by) = at(x1), at(x2)
    return [Line(ax, ay, bx, by, item.pen)]


def _half(points: Sequence[Point], edge: float, keep_right: bool) -> list[Point]:
    """A closed polygon cut by one upright line (Sutherland and Hodgman)."""
    kept: list[Point] = []
    for i, (x, y) in enumerate(points):
        px, py = points[i - 1]
        inside = x >= edge if keep_right else x <= edge
        was = px >= edge if keep_right else px <= edge
        if inside != was:
            kept.append((edge, py + (y - py) * (edge - px) / (x - px)))
        if inside:
            kept.append((x, y))
    return kept


def _path(item: Path, low: float, high: float) -> list[Item]:
    if item.closed:
        points = _half(_half(item.points, low, True), high, False)
        return [replace(item, points=tuple(points))] if len(points) > 2 else []
    pieces: list[list[Point]] = []
    for (x1, y1), (x2, y2) in zip(item.points, item.points[1:], strict=False):
        for cut in _line(Line(x1, y1, x2, y2), low, high):
            assert isinstance(cut, Line)
            if pieces and pieces[-1][-1] == (cut.x1, cut.y1):
                pieces[-1].append((cut.x2, cut.y2))
            else:
                pieces.append([(cut.x1, cut.y1), (cut.x2, cut.y2)])
    return [replace(item, points=tuple(p)) for p in pieces]


def between(items: Iterable[Item], low: float, high: float) -> list[Item]:
    """What of some items lies between two upright lines [mm].

    Lines, paths and rectangles are cut; a text, an arc or a circle is kept whole where its anchor or
    centre lies between.
    """
    found: list[Item] = []
    for item in items:
        match item:
            case Line():
                found += _line(item, low, high)
            case Path():
                found += _path(item, low, high)
            case Rect(x, _, width, _, _, _):
                left, right = max(x, low), min(x + width, high)
                if right > left:
                    found.append(replace(item, x=left, width=right - left))
            case Text():
                if low <= item.x < high:
                    found.append(item)
            case Arc() | Circle():
                if low <= item.cx < high:
                    found.append(item)
            case Group(name, inner):
                cut = between(inner, low, high)
                if cut:
                    found.append(Group(name, tuple(cut)))
    return found
