"""The chart of marks: outlines to scale, each mark numbered beside its place, runs drawn as what they are."""

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from purfling.drawing.drawings.chart_layout import WIDE, Place, Sheet
from purfling.drawing.shapes import (
    Circle,
    Colour,
    Drawing,
    Group,
    Item,
    Line,
    Path,
    Pen,
    Point,
    Rect,
    Text,
    placed,
)
from purfling.words import say

# How a run is drawn, by the family of its kind; beside the colour always a pattern of its own.
RUNS: dict[str, Pen] = {
    "edge": Pen("ochre", 1.1, (2.4, 1.2)),
    "crack": Pen("madder", 0.8),
    "joint": Pen("water", 1.0, (4.0, 1.4)),
    "varnish": Pen("ochre", 0.9, (0.6, 1.4)),
    "shape": Pen("water", 0.7, (1.2, 1.2)),
    "earlier": Pen("moss", 0.9, (3.2, 1.0, 0.8, 1.0)),
    "bow": Pen("quiet", 0.9, (2.0, 0.8)),
}


@dataclass(frozen=True)
class ChartMark:
    """One mark as the chart draws it.

    ``points`` in unit coordinates: one for a point, two and more for a run. ``group`` is the family of
    its kind, ``standing`` one of known, new, uncovered, gone.
    """

    number: int
    view: str
    points: tuple[Point, ...]
    group: str = "edge"
    standing: str = "known"
    along_edge: bool = False
    chosen: bool = False


def _runs(place: Place, mark: ChartMark, size: float) -> tuple[list[Item], Point]:
    """The lines of a mark and the point its number points at."""
    line = [place.to_sheet(p) for p in place.view.run(mark.points, mark.along_edge)]
    pen = RUNS.get(mark.group, RUNS["edge"])
    pen = replace(pen, width=pen.width * size / 6.0, dash=tuple(d * size / 6.0 for d in pen.dash))
    if len(line) == 1:
        x, y = line[0]
        solid = replace(pen, dash=())
        return [
            Circle(x, y, size * 0.19, solid, "paper"),
            Circle(x, y, size * 0.06, solid, solid.colour),
        ], line[0]
    items: list[Item] = [Path(tuple(line), pen, smooth=True)]
    if mark.group == "crack":
        items += _ticks(line, pen, size)
    else:
        items += [
            Circle(x, y, size * 0.09, replace(pen, dash=()), pen.colour) for x, y in (line[0], line[-1])
        ]
    return items, _middle(line)


def _ticks(line: Sequence[Point], pen: Pen, size: float) -> list[Item]:
    """Small cross strokes along a crack, so that it is told from a line of the drawing."""
    total = sum(math.dist(a, b) for a, b in itertools.pairwise(line))
    step = size * 0.75
    items: list[Item] = []
    for k in range(1, max(int(total / step), 1) + 1):
        (x, y), (ux, uy) = _along(line, min(k * step, total) - step / 2)
        h = size * 0.17
        items.append(
            Line(x - uy * h, y + ux * h, x + uy * h, y - ux * h, replace(pen, width=pen.width * 0.7))
        )
    return items


def _along(line: Sequence[Point], at: float) -> tuple[Point, Point]:
    """The point and direction at a length along a line."""
    for a, b in itertools.pairwise(line):
        piece = math.dist(a, b)
        if piece >= at and piece > 0:
            t = at / piece
            return (a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t), (
                (b[0] - a[0]) / piece,
                (b[1] - a[1]) / piece,
            )
        at -= piece
    return line[-1], (1.0, 0.0)


def _middle(line: Sequence[Point]) -> Point:
    total = sum(math.dist(a, b) for a, b in itertools.pairwise(line))
    return _along(line, total / 2)[0]


def _spread(anchors: Sequence[Point], centres: Sequence[Point], sheet: Sheet, size: float) -> list[Point]:
    """Where the numbers stand: pushed outwards from their view's middle, then apart from each other."""
    found: list[list[float]] = []
    for (ax, ay), (cx, cy) in zip(anchors, centres, strict=True):
        away = math.hypot(ax - cx, ay - cy)
        dx, dy = ((ax - cx) / away, (ay - cy) / away * 0.4) if away > 1e-6 else (0.8, 0.6)
        unit = math.hypot(dx, dy) or 1.0
        found.append([ax + dx / unit * size * 1.25, ay + dy / unit * size * 1.25])
    for _ in range(160):
        moved = False
        for i, p in enumerate(found):
            for j, q in enumerate((*found, *anchors)):
                other_is_label = j < len(found)
                if j == i:
                    continue
                least = size * (1.56 if other_is_label else 1.0)
                dx, dy = p[0] - q[0], p[1] - q[1]
                gap = math.hypot(dx, dy)
                if gap < least:
                    if gap < 1e-6:
                        dx, dy, gap = 0.6, 0.8 * (1 if i % 2 else -1), 1.0
                    push = (least - gap) * (0.5 if other_is_label else 1.0) + 0.02
                    p[0] += dx / gap * push
                    p[1] += dy / gap * push
                    moved = True
            p[0] = min(max(p[0], size), sheet.width - size)
            p[1] = min(max(p[1], size), sheet.height - size)
        if not moved:
            break
    return [(p[0], p[1]) for p in found]


def _number(mark: ChartMark, at: Point, anchor: Point, size: float) -> Item:
    """The number in its shape: ring for known, filled for new, square for uncovered, broken ring for gone."""
    x, y = at
    r = size * 0.72
    line: Colour = {"new": "varnish", "uncovered": "ochre", "gone": "quiet"}.get(mark.standing, "ink")  # type: ignore[assignment]
    pen = Pen(line, size * 0.05, (size * 0.2, size * 0.14) if mark.standing == "gone" else ())
    away = math.dist(at, anchor) or 1.0
    sx, sy = x + (anchor[0] - x) / away * r, y + (anchor[1] - y) / away * r
    items: list[Item] = [Line(sx, sy, anchor[0], anchor[1], Pen(line, size * 0.035))] if away > r else []
    fill: Colour = "varnish" if mark.standing == "new" else "paper"
    if mark.standing == "uncovered":
        items.append(Rect(x - r, y - r * 0.92, 2 * r, 2 * r * 0.92, pen, fill))
    else:
        items.append(Circle(x, y, r, pen, fill))
    if mark.chosen:
        items.append(Circle(x, y, r * 1.28, Pen("varnish", size * 0.07)))
    colour: Colour = "paper" if fill == "varnish" else line
    items.append(
        Text(
            x,
            y - size * 0.32,
            str(mark.number),
            size * (0.92 if mark.number < 100 else 0.7),
            "middle",
            colour,
            bold=True,
        )
    )
    return Group(f"mark-{mark.number}", tuple(items))


def _titles(sheet: Sheet, size: float, language: str) -> list[Item]:
    items: list[Item] = []
    for p in sheet.places:
        x0, y0, x1, _ = p.box
        name = p.view.name
        items.append(
            Text(
                (x0 + x1) / 2, y0 - size * 1.15, say(f"marks.view_{name}", language), size, "middle", "quiet"
            )
        )
        if name in ("front", "back", "inside") and x1 - x0 > 90:
            words = ("bass", "treble") if name != "back" else ("treble", "bass")
            for x, word, anchor in ((x0, words[0], "start"), (x1, words[1], "end")):
                y = y0 - size * 1.15
                items.append(Text(x, y, say(f"marks.{word}", language), size * 0.86, anchor, "quiet"))  # type: ignore[arg-type]
    return items


def chart_sheet(
    sheet: Sheet,
    marks: Sequence[ChartMark],
    language: str = "en",
    size: float = 6.4,
    width: float = WIDE,
    title: str = "",
) -> Drawing:
    """The chart as a drawing ``width`` mm wide; ``size`` is the text size on a sheet 500 wide.

    Marks on views that the sheet has not are left out.
    """
    items: list[Item] = []
    for one in sheet.places:
        items.append(Group(f"view-{one.view.name}", tuple(_firm(i, one) for i in one.view.items)))
    items += _titles(sheet, size, language)
    shown = [(m, p) for m in marks if (p := sheet.place(m.view)) is not None]
    anchors: list[Point] = []
    for mark, place in shown:
        lines, anchor = _runs(place, mark, size)
        items.append(Group(f"run-{mark.number}", tuple(lines)))
        anchors.append(anchor)
    centres = [((p.box[0] + p.box[2]) / 2, (p.box[1] + p.box[3]) / 2) for _, p in shown]
    labels = _spread(anchors, centres, sheet, size)
    for (mark, _), at, anchor in zip(shown, labels, anchors, strict=True):
        items.append(_number(mark, at, anchor, size))
    k = width / sheet.width
    whole = tuple(placed(i, 0.0, 0.0, k) for i in items) if k != 1.0 else tuple(items)
    return Drawing(width, sheet.height * k, whole, title or say("marks.chart", language))


def _firm(item: Item, place: Place) -> Item:
    """An item of a view on the sheet; its pen keeps the sheet's width whatever the view's scale."""
    moved = placed(item, place.dx, place.dy, place.scale)
    if isinstance(item, Path) and isinstance(moved, Path):
        return replace(moved, pen=item.pen)
    return moved
