"""The nut's strip at 1:1: groove places by equal gaps and by equal centres, with two check bars."""

from collections.abc import Sequence
from dataclasses import dataclass

from purfling.drawing.shapes import (
    AXIS,
    HAIR,
    Drawing,
    Group,
    Item,
    Line,
    Pen,
    Rect,
    Text,
    check_bars,
    placed,
)
from purfling.words import decimal, say

WIDTH = 150.0
HEIGHT = 138.0
MIDDLE = 80.0  # x of the centre line
STRIP = 92.0  # y of the strip's lower edge
TALL = 14.0


@dataclass(frozen=True)
class NutMarks:
    """Names and lateral places of the grooves [mm]; ``chosen`` is centres or gaps; board's width or None."""

    names: Sequence[str]
    centres_mm: Sequence[float]
    gaps_mm: Sequence[float]
    diameter_mm: Sequence[float]
    chosen: str
    width_mm: float | None


def _marks(marks: NutMarks) -> list[Item]:
    """Solid and long: the chosen places, from below. Dashed and short: the others, from above."""
    chosen, other = marks.gaps_mm, marks.centres_mm
    if marks.chosen != "gaps":
        chosen, other = other, chosen
    solid: list[Item] = []
    dashed: list[Item] = []
    for name, y, d in zip(marks.names, chosen, marks.diameter_mm, strict=True):
        x = MIDDLE + y
        solid += [
            Line(x, STRIP - 3, x, STRIP + TALL * 0.62, Pen("ink", 0.15)),
            Line(x - d / 2, STRIP, x + d / 2, STRIP, Pen("varnish", 0.8)),
            Text(x, STRIP - 7, name, 3.4, "middle", bold=True),
        ]
    for y in other:
        x = MIDDLE + y
        dashed.append(Line(x, STRIP + TALL * 0.7, x, STRIP + TALL + 2, Pen("quiet", 0.15, (0.8, 0.6))))
    return [Group("grooves", tuple(solid)), Group("grooves-other", tuple(dashed))]


def nut_strip(marks: NutMarks, language: str = "en", print_scale: float | None = None) -> Drawing:
    """The sheet: strip, figures, two bars of 100.0 mm; everything ``print_scale`` times as large.

    Bass on the left, seen from the player's head. Without a scale it says "not calibrated".
    """
    scale = 1.0 if print_scale is None else print_scale
    width = marks.width_mm or (max(marks.gaps_mm) - min(marks.gaps_mm) + 8.0)
    left = MIDDLE - width / 2
    items: list[Item] = [
        Rect(left, STRIP, width, TALL, HAIR, "none"),
        Line(MIDDLE, STRIP - 4, MIDDLE, STRIP + TALL + 4, AXIS),
        *_marks(marks),
    ]
    for index, code in enumerate(("strip_gaps", "strip_centres")):
        places = marks.gaps_mm if code == "strip_gaps" else marks.centres_mm
        shown = "  ".join(decimal(y - places[0], 2, language) for y in places)
        items.append(Text(20, STRIP - 16 - 6 * index, say(f"arithmetic.{code}", language, places=shown), 3.0))
    items.append(Text(20, STRIP - 28, say("arithmetic.strip_which", language), 2.8, colour="quiet"))
    scaled = [placed(i, 0.0, 0.0, scale) for i in items]
    scaled += check_bars(7.0, 7.0, scale)
    title = say("arithmetic.strip_title", language)
    scaled.append(Text(20, HEIGHT * scale - 9, title, 4.6, bold=True))
    scaled.append(Text(20, HEIGHT * scale - 15, say("arithmetic.strip_bass", language), 2.8, colour="quiet"))
    if print_scale is None:
        scaled.append(
            Text(
                WIDTH - 6, HEIGHT - 9, say("arithmetic.not_calibrated", language), 6.0, "end", "madder", True
            )
        )
        scaled.append(Text(20, 20, say("arithmetic.measure_bars", language), 2.8, colour="quiet"))
    else:
        said = say("arithmetic.print_scaled", language, scale=decimal(print_scale, 4, language))
        scaled.append(Text(20, 20, said, 2.8, colour="quiet"))
    return Drawing(WIDTH * scale, HEIGHT * scale, tuple(scaled), title)
