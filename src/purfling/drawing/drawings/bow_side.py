"""The bow from the side, drawn to scale from its own numbers, with its balance."""

import itertools
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from purfling.drawing.shapes import (
    AXIS,
    HAIR,
    Colour,
    Drawing,
    Item,
    Line,
    Path,
    Pen,
    Point,
    Text,
    dimension,
)
from purfling.words import decimal, say

MARGIN = 6.0
HEIGHT = 56.0
HAIR_LINE = 25.0


@dataclass(frozen=True)
class BowShape:
    """What the side view is drawn from [mm]; places from the stick's end.

    ``outline`` is (place, diameter, camber depth) along the stick; ``lapping`` (start, end) or None; the
    balances, found and changed, are places from the stick's end; ``datum_mm`` is where they are read from.
    """

    outline: Sequence[tuple[float, float, float]]
    frog_mm: float
    button_mm: float
    frog_lever_mm: float
    head_lever_mm: float
    lapping: tuple[float, float] | None
    found_mm: float | None
    changed_mm: float | None
    datum_mm: float
    datum: str


def _band(rows: Sequence[tuple[float, float, float]], half: float = 0.0) -> list[Point]:
    upper = [(x, d / 2 + half - c) for x, d, c in rows]
    lower = [(x, -d / 2 - half - c) for x, d, c in reversed(rows)]
    return upper + lower


def _between(
    rows: Sequence[tuple[float, float, float]], low: float, high: float
) -> list[tuple[float, float, float]]:
    """The outline between two places, with points at both."""

    def at(x: float) -> tuple[float, float, float]:
        for (x1, d1, c1), (x2, d2, c2) in itertools.pairwise(rows):
            if x1 <= x <= x2:
                t = (x - x1) / (x2 - x1)
                return x, d1 + t * (d2 - d1), c1 + t * (c2 - c1)
        return (x, *rows[0][1:]) if x < rows[0][0] else (x, *rows[-1][1:])

    return [at(low), *(r for r in rows if low < r[0] < high), at(high)]


def _fulcrum(x: float, y: float, colour: Colour, text: str, lower: bool) -> list[Item]:
    pen = Pen(colour, 0.3)
    base = y - 5.0
    return [
        Path(((x, y), (x - 2.6, base), (x + 2.6, base)), pen, closed=True, fill=colour if lower else "none"),
        Line(x, y, x, HAIR_LINE + 13, Pen(colour, 0.12, (1.0, 0.8))),
        Text(x, base - (8.2 if lower else 4.0), text, 3.0, "middle", colour),
    ]


def side_view(shape: BowShape, language: str = "en", width: float = 180.0) -> Drawing:
    """The bow along x, button at the left, hair below; one scale for length and height."""
    end = shape.outline[-1][0]
    k = (width - 2 * MARGIN) / (end + shape.button_mm + 8.0)
    axis = HAIR_LINE + shape.frog_lever_mm * k

    def put(points: Sequence[Point]) -> tuple[Point, ...]:
        return tuple((MARGIN + (x + shape.button_mm) * k, axis + y * k) for x, y in points)

    front = shape.frog_mm
    hair = put([(front - 2, -shape.frog_lever_mm), (end - 3, -shape.head_lever_mm)])
    half = shape.outline[-1][1] / 2
    head = put([(end - 16, -half), (end - 9, -shape.head_lever_mm + 2), (end - 11, -shape.head_lever_mm),
                (end + 5, -shape.head_lever_mm), (end + 1, half), (end, half)])  # fmt: skip
    base = -shape.frog_lever_mm
    frog = put([(6, -4), (front, -4), (front - 4, -12), (front, base), (8, base), (4, -12)])
    button = put([(-shape.button_mm, -4.2), (0, -4.2), (0, 4.2), (-shape.button_mm, 4.2)])
    items: list[Item] = [
        Path(button, HAIR, closed=True, fill="spruce"),
        Path(frog, Pen("ink", 0.25), closed=True, fill="quiet"),
        Path(head, Pen("ink", 0.25), closed=True, fill="spruce"),
        Path(put(_band(shape.outline)), Pen("ink", 0.25), closed=True, fill="spruce"),
        Path(hair, Pen("ink", 0.4)),
    ]
    if shape.lapping is not None:
        rows = _between(shape.outline, *shape.lapping)
        items.append(Path(put(_band(rows, 0.5)), Pen("varnish", 0.25), closed=True, fill="ochre"))
    items += _balances(shape, put, language)
    scale = say("bow.to_scale", language, scale=decimal(1 / k, 2, language))
    items.append(Text(MARGIN, 2.0, scale, 2.8, colour="quiet"))
    return Drawing(width, HEIGHT, tuple(items), say("bow.side_title", language))


def _balances(
    shape: BowShape, put: Callable[[Sequence[Point]], tuple[Point, ...]], language: str
) -> list[Item]:
    items: list[Item] = []
    y = HAIR_LINE - 3.0
    ((zero, _),) = put([(shape.datum_mm, 0.0)])
    rows: tuple[tuple[float | None, Colour, str, float, bool], ...] = (
        (shape.found_mm, "quiet", "bow.balance_found", 15.0, False),
        (shape.changed_mm, "varnish", "bow.balance_changed", 21.0, True),
    )
    for at, colour, code, lift, lower in rows:
        if at is None:
            continue
        ((x, _),) = put([(at, 0.0)])
        figure = decimal(at - shape.datum_mm, 1, language)
        items += _fulcrum(x, y, colour, say(code, language), lower)
        items += dimension((zero, HAIR_LINE), (x, HAIR_LINE), figure, lift, 3.0, colour)
    if items:
        label = say(f"bow.datum_{shape.datum}", language)
        items.append(Line(zero, HAIR_LINE - 4, zero, HAIR_LINE + 22, AXIS))
        items.append(Text(zero, HAIR_LINE - 7.2, label, 2.6, "middle", "quiet"))
    return items
