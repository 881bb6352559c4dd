"""Each peg in the near cheek, now and after its wear, twice its size; the box's width is only indicated."""

from collections.abc import Sequence
from dataclasses import dataclass

from purfling.drawing.lines import below, tall, wrapped
from purfling.drawing.shapes import AXIS, FOUND, Drawing, Item, Line, Path, Pen, Rect, Text
from purfling.words import decimal, say

TIMES = 2.0
CHEEK = 6.0  # mm of wood that stands for a cheek
WIDTH = 190.0


@dataclass(frozen=True)
class PegView:
    """A peg: diameter at the cheek, stand-out (None: not read), travel [mm], whether it is to be bushed."""

    name: str
    diameter_mm: float
    standout_mm: float | None
    travel_mm: float
    bush: bool


def _shank(view: PegView, x0: float, y: float, taper: float, moved: float, pen: Pen) -> Path:
    """The cone from its collar inwards, 60 mm of it; its diameter at the cheek grows as it goes in."""
    standout = view.standout_mm or 12.0
    start = x0 - (standout - moved) * TIMES
    end = start + 60.0 * TIMES / 2
    near = (view.diameter_mm + standout / taper) * TIMES / 2
    far = near - 30.0 / taper * TIMES / 2
    return Path(((start, y - near), (start, y + near), (end, y + far), (end, y - far)), pen, True)


def pegs_drawing(
    views: Sequence[PegView], taper: float, lines: Sequence[str], language: str = "en"
) -> Drawing:
    """One row for each peg, lowest string first; as found dashed, after the wear in varnish."""
    rows = wrapped(lines, WIDTH - 24.0, 3.6)
    row = max(v.diameter_mm for v in views) * TIMES + 14.0
    under = 8.0 + tall(rows, 3.6)
    height = 30.0 + row * len(views) + under
    x0 = 84.0
    items: list[Item] = [
        Text(12, height - 9, say("arithmetic.picture_pegs", language), 5.0, bold=True),
        Text(
            12, height - 15.5, say("arithmetic.times_size", language, times=f"{TIMES:g}"), 4.0, colour="ochre"
        ),
    ]
    y = height - 26.0 - row / 2
    for view in views:
        half = row / 2 - 2
        hole = view.diameter_mm * TIMES / 2
        items += [
            Rect(x0, y + hole, CHEEK * TIMES, half - hole, Pen("ink", 0.25), "spruce"),
            Rect(x0, y - half, CHEEK * TIMES, half - hole, Pen("ink", 0.25), "spruce"),
            Line(x0 - 40, y, x0 + 64, y, AXIS),
            _shank(view, x0, y, taper, 0.0, FOUND),
            Text(14, y - 2, view.name, 6.0, bold=True),
        ]
        if view.travel_mm > 0:
            items.append(_shank(view, x0, y, taper, view.travel_mm, Pen("varnish", 0.4)))
            said = say("arithmetic.peg_in", language, by=decimal(view.travel_mm, 1, language))
            items.append(Text(x0 + 68, y + 1, said, 4.0, "start", "varnish", True))
        if view.bush:
            items.append(
                Text(x0 + 68, y - 5, say("arithmetic.bush_word", language), 4.0, "start", "madder", True)
            )
        y -= row
    items += below(rows, 12, under - 4, 3.6)
    return Drawing(WIDTH, height, tuple(items), say("arithmetic.picture_pegs", language))
