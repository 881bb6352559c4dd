"""A drawing as a value: items in millimetres, x to the right, y UP, origin at the lower left corner."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Literal

Colour = Literal["ink", "quiet", "varnish", "water", "moss", "ochre", "madder", "paper", "spruce", "none"]
Anchor = Literal["start", "middle", "end"]
Point = tuple[float, float]


@dataclass(frozen=True)
class Pen:
    """How a line is drawn: colour name, width [mm], dash pattern [mm]."""

    colour: Colour = "ink"
    width: float = 0.25
    dash: tuple[float, ...] = ()


INK = Pen()
HAIR = Pen(width=0.12)
QUIET = Pen("quiet", 0.18)
WISHED = Pen("varnish", 0.45)
FOUND = Pen("quiet", 0.35, (2.0, 1.2))
AXIS = Pen("quiet", 0.15, (4.0, 1.0, 0.6, 1.0))


@dataclass(frozen=True)
class Line:
    """A straight line from (x1, y1) to (x2, y2)."""

    x1: float
    y1: float
    x2: float
    y2: float
    pen: Pen = INK


@dataclass(frozen=True)
class Path:
    """A polyline, closed or open, with an optional fill; ``smooth`` is exported to DXF as a spline."""

    points: tuple[Point, ...]
    pen: Pen = INK
    closed: bool = False
    fill: Colour = "none"
    smooth: bool = False


@dataclass(frozen=True)
class Arc:
    """An arc of a circle, counter-clockwise from ``start`` to ``end`` [degrees]."""

    cx: float
    cy: float
    radius: float
    start: float
    end: float
    pen: Pen = INK


@dataclass(frozen=True)
class Circle:
    """A full circle with an optional fill."""

    cx: float
    cy: float
    radius: float
    pen: Pen = INK
    fill: Colour = "none"


@dataclass(frozen=True)
class Rect:
    """An upright rectangle, lower left corner (x, y)."""

    x: float
    y: float
    width: float
    height: float
    pen: Pen | None = INK
    fill: Colour = "none"


@dataclass(frozen=True)
class Text:
    """A line of text; ``size`` is the font size [mm]; ``turn`` degrees counter-clockwise."""

    x: float
    y: float
    text: str
    size: float = 3.2
    anchor: Anchor = "start"
    colour: Colour = "ink"
    bold: bool = False
    turn: float = 0.0


@dataclass(frozen=True)
class Group:
    """Items under one id (SVG) or layer (DXF)."""

    name: str
    items: tuple["Item", ...]


Item = Line | Path | Arc | Circle | Rect | Text | Group


@dataclass(frozen=True)
class Drawing:
    """A sheet of ``width`` x ``height`` [mm] with its items; ``title`` is read aloud by screen readers."""

    width: float
    height: float
    items: tuple[Item, ...]
    title: str = ""


def moved(item: Item, dx: float, dy: float) -> Item:
    """The item moved by (dx, dy) [mm]."""
    return placed(item, dx, dy, 1.0)


def placed(item: Item, dx: float, dy: float, scale: float) -> Item:
    """The item scaled about the origin, then moved; pens and text sizes are scaled as well."""

    def pen(p: Pen) -> Pen:
        return replace(p, width=p.width * scale, dash=tuple(d * scale for d in p.dash))

    match item:
        case Line(x1, y1, x2, y2, p):
            return Line(x1 * scale + dx, y1 * scale + dy, x2 * scale + dx, y2 * scale + dy, pen(p))
        case Path():
            points = tuple((x * scale + dx, y * scale + dy) for x, y in item.points)
            return replace(item, points=points, pen=pen(item.pen))
        case Arc() | Circle():
            return replace(
                item,
                cx=item.cx * scale + dx,
                cy=item.cy * scale + dy,
                radius=item.radius * scale,
                pen=pen(item.pen),
            )
        case Rect():
            return replace(
                item,
                x=item.x * scale + dx,
                y=item.y * scale + dy,
                width=item.width * scale,
                height=item.height * scale,
                pen=None if item.pen is None else pen(item.pen),
            )
        case Text():
            return replace(item, x=item.x * scale + dx, y=item.y * scale + dy, size=item.size * scale)
        case Group(name, items):
            return Group(name, tuple(placed(i, dx, dy, scale) for i in items))


def dimension(
    start: Point, end: Point, text: str, offset: float = 6.0, size: float = 3.2, colour: Colour = "ink"
) -> tuple[Item, ...]:
    """A dimension line beside the stretch start-end, ``offset`` [mm] to its left, with its figure."""
    (x1, y1), (x2, y2) = start, end
    length = math.hypot(x2 - x1, y2 - y1)
    if length == 0:
        return ()
    ux, uy = (x2 - x1) / length, (y2 - y1) / length
    nx, ny = -uy, ux
    ax, ay, bx, by = x1 + nx * offset, y1 + ny * offset, x2 + nx * offset, y2 + ny * offset
    over = math.copysign(1.2, offset)
    pen = Pen(colour, 0.15)
    turn = math.degrees(math.atan2(uy, ux))
    if turn > 90.01 or turn < -89.99:
        turn += 180.0
    lift = 0.9
    mx, my = (ax + bx) / 2, (ay + by) / 2
    angle = math.radians(turn)
    tx, ty = mx - math.sin(angle) * lift, my + math.cos(angle) * lift
    ticks = [
        Line(px - (ux + nx) * 0.8, py - (uy + ny) * 0.8, px + (ux + nx) * 0.8, py + (uy + ny) * 0.8, pen)
        for px, py in ((ax, ay), (bx, by))
    ]
    return (
        Line(x1, y1, ax + nx * over, ay + ny * over, Pen(colour, 0.1)),
        Line(x2, y2, bx + nx * over, by + ny * over, Pen(colour, 0.1)),
        Line(ax, ay, bx, by, pen),
        *ticks,
        Text(tx, ty, text, size, "middle", colour, turn=turn),
    )


def arc_points(radius: float, cx: float, cy: float, x_from: float, x_to: float, n: int = 61) -> list[Point]:
    """Points of the upper arc of a circle between two x [mm]; used where a curve is drawn or cut."""
    out: list[Point] = []
    for i in range(n):
        x = x_from + (x_to - x_from) * i / (n - 1)
        out.append((x, cy + math.sqrt(max(radius * radius - (x - cx) ** 2, 0.0))))
    return out


def check_bars(x: float, y: float, scale: float = 1.0, label: str = "100 mm") -> tuple[Item, ...]:
    """The two solid bars of exactly 100.0 mm x ``scale`` from the corner (x, y): one along x, one along y.

    0.5 mm thick and black; held against a ruler they tell whether the printer was true.
    """
    long, thick = 100.0 * scale, 0.5 * scale
    gap = 1.5 * scale
    return (
        Rect(x + gap, y, long, thick, None, "ink"),
        Rect(x, y + gap, thick, long, None, "ink"),
        Text(x + gap + long / 2, y + 1.3 * scale, label, 2.6, "middle"),
        Text(x + 3.2 * scale, y + gap + long / 2, label, 2.6, "middle", turn=90.0),
    )


def flatten(items: Iterable[Item]) -> list[Item]:
    """All items without their groups."""
    found: list[Item] = []
    for item in items:
        found.extend(flatten(item.items) if isinstance(item, Group) else [item])
    return found


def spread(values: Sequence[float]) -> tuple[float, float]:
    """Least and greatest of some values."""
    return min(values), max(values)
