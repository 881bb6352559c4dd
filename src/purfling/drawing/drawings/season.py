"""Changes of the projection between two cards as bars about zero, up is a higher board line."""

from collections.abc import Sequence
from dataclasses import dataclass

from purfling.drawing.lines import below, tall, wrapped
from purfling.drawing.shapes import HAIR, Colour, Drawing, Item, Line, Pen, Rect, Text
from purfling.words import decimal, say

WIDTH = 210.0
HALF = 34.0  # mm of paper for the greatest change


@dataclass(frozen=True)
class Days:
    """(name of the bar, change [mm], one standard deviation or None)."""

    bars: tuple[tuple[str, float, float | None], ...]


def season_drawing(days: Days, lines: Sequence[str], language: str = "en") -> Drawing:
    """Bars for the reading, what the strings tell, what the season explains, what is beyond it."""
    most = max([abs(v) + (e or 0.0) for _, v, e in days.bars] + [0.2])
    scale = HALF / most
    rows = wrapped(lines, WIDTH - 24.0, 3.8)
    under = 8.0 + tall(rows, 3.8)
    zero = under + HALF + 12.0
    height = zero + HALF + 30.0
    items: list[Item] = [
        Text(12, height - 9, say("arithmetic.picture_season", language), 5.0, bold=True),
        Text(
            12,
            height - 15.5,
            say("arithmetic.times_size", language, times=f"{scale:.0f}"),
            4.0,
            colour="ochre",
        ),
        Line(20, zero, WIDTH - 12, zero, HAIR),
        Text(18, zero - 1.2, "0", 3.4, "end", "quiet"),
    ]
    step = (WIDTH - 40.0) / len(days.bars)
    for i, (name, value, error) in enumerate(days.bars):
        x = 28.0 + step * i
        tip = value * scale
        pen = Pen("varnish" if name == "beyond" else "ink", 0.3)
        fill: Colour = "none" if name == "beyond" else "spruce"
        items.append(Rect(x, zero + min(tip, 0.0), 18.0, abs(tip), pen, fill))
        if error:
            items.append(
                Line(x + 9, zero + tip - error * scale, x + 9, zero + tip + error * scale, Pen("quiet", 0.3))
            )
        lift = zero + max(tip, 0.0) + (error or 0.0) * scale + 2.0
        shown = ("+" if value > 0 else "") + decimal(value, 2, language)
        items.append(Text(x + 9, lift, shown, 4.2, "middle", bold=True))
        items.append(
            Text(x + 9, zero - HALF - 8.0, say(f"arithmetic.bar_{name}", language), 3.4, "middle", "quiet")
        )
    items += below(rows, 12, under - 4, 3.8)
    return Drawing(WIDTH, height, tuple(items), say("arithmetic.picture_season", language))
