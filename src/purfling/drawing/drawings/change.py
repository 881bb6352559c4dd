"""Board and outer strings from the side, before and after a change; heights stretched, and said so."""

from collections.abc import Sequence
from dataclasses import dataclass

from purfling.drawing.lines import below, tall, wrapped
from purfling.drawing.shapes import FOUND, HAIR, WISHED, Drawing, Item, Line, Path, Pen, Text
from purfling.words import decimal, say

WIDTH = 260.0
LEFT = 22.0
RIGHT = 42.0
ROW = 74.0
STRETCHED = 52.0  # mm of a row that the heights may fill


@dataclass(frozen=True)
class Side:
    """One string: levels [mm] of board (nut, end) and string (nut, bridge), before and after."""

    name: str
    board_mm: tuple[float, float]
    board_new_mm: tuple[float, float]
    string_mm: tuple[float, float]
    string_new_mm: tuple[float, float]
    bridge_mm: float


def _row(side: Side, length: float, board: float, base: float, stretch: float, language: str) -> list[Item]:
    run = (WIDTH - LEFT - RIGHT) / length

    def x(place: float) -> float:
        return LEFT + place * run

    low = min(*side.board_mm, *side.board_new_mm)

    def y(level: float) -> float:
        return base + (level - low) * stretch

    def line(levels: tuple[float, float], to: float, pen: Pen) -> Line:
        return Line(x(0), y(levels[0]), x(to), y(levels[1]), pen)

    wood = [
        (x(0), y(side.board_new_mm[0])),
        (x(board), y(side.board_new_mm[1])),
        (x(board), base - 4),
        (x(0), base - 4),
    ]
    top = max(side.string_mm[1], side.string_new_mm[1])
    by = decimal(abs(side.bridge_mm), 2, language)
    word = (
        "picture_down"
        if side.bridge_mm < -0.005
        else "picture_up"
        if side.bridge_mm > 0.005
        else "picture_same"
    )
    return [
        Path(tuple(wood), Pen("none", 0.0), True, "spruce"),
        line(side.board_mm, board, FOUND),
        line(side.board_new_mm, board, WISHED),
        line(side.string_mm, length, FOUND),
        line(side.string_new_mm, length, Pen("varnish", 0.3)),
        Line(x(length), base - 4, x(length), y(top) + 3, HAIR),
        Text(x(0) - 4, y(side.string_mm[0]), side.name, 6.0, "end", bold=True),
        Text(
            x(length) + 3,
            y(side.string_new_mm[1]) - 1,
            say(f"arithmetic.{word}", language, by=by),
            4.4,
            "start",
            "varnish",
            True,
        ),
    ]


def change_drawing(
    sides: Sequence[Side], length_mm: float, board_mm: float, lines: Sequence[str], language: str = "en"
) -> Drawing:
    """Lowest string above, highest below; found dashed, new in varnish; ``lines`` are printed underneath."""
    spans = [max(*s.string_mm, *s.string_new_mm) - min(*s.board_mm, *s.board_new_mm) for s in sides]
    stretch = float(max(1, int(STRETCHED / max(spans))))
    rows = wrapped(lines, WIDTH - LEFT - 8.0, 4.2)
    under = 8.0 + tall(rows, 4.2)
    height = 20.0 + ROW * len(sides) + under
    items: list[Item] = [
        Text(LEFT, height - 9, say("arithmetic.picture_change", language), 5.4, bold=True),
        Text(
            LEFT,
            height - 15.5,
            say("arithmetic.stretched", language, times=f"{stretch:g}"),
            4.0,
            colour="ochre",
        ),
    ]
    for i, side in enumerate(sides):
        items += _row(side, length_mm, board_mm, under + ROW * (len(sides) - 1 - i) + 10, stretch, language)
    items += below(rows, LEFT, under - 4, 4.2)
    return Drawing(WIDTH, height, tuple(items), say("arithmetic.picture_change", language))
