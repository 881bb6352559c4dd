"""A set of strings as bars to one scale: tension, and what of it presses on the bridge; now and new."""

from collections.abc import Sequence
from dataclasses import dataclass

from purfling.drawing.lines import below, tall, wrapped
from purfling.drawing.shapes import FOUND, INK, Drawing, Item, Pen, Rect, Text
from purfling.words import decimal, say

WIDTH = 220.0
LEFT = 30.0
ALONG = 150.0


@dataclass(frozen=True)
class Bar:
    """A string's (tension, down force) [N], now and in the new set (None: no new set)."""

    name: str
    now_n: tuple[float, float]
    new_n: tuple[float, float] | None


def _bar(value: tuple[float, float], y: float, run: float, pen: Pen, language: str) -> list[Item]:
    tension, down = value
    said = f"{decimal(tension, 1, language)} N, {decimal(down, 1, language)}"
    return [
        Rect(LEFT, y, tension * run, 6.0, pen, "none"),
        Rect(LEFT, y, down * run, 6.0, pen, "spruce"),
        Text(LEFT + tension * run + 2, y + 1.6, said, 3.6, "start", pen.colour),
    ]


def strings_drawing(bars: Sequence[Bar], lines: Sequence[str], language: str = "en") -> Drawing:
    """One row for each string, lowest first."""
    most = max(max(b.now_n[0], b.new_n[0] if b.new_n else 0.0) for b in bars)
    run = (ALONG - 30.0) / most
    double = any(b.new_n for b in bars)
    row = 20.0 if double else 12.0
    rows = wrapped(lines, WIDTH - 24.0, 3.8)
    under = 8.0 + tall(rows, 3.8)
    height = 26.0 + row * len(bars) + under
    items: list[Item] = [
        Text(12, height - 9, say("arithmetic.picture_strings", language), 5.0, bold=True),
        Text(12, height - 15.5, say("arithmetic.picture_bars", language), 3.6, colour="quiet"),
    ]
    y = height - 24.0
    for bar in bars:
        items.append(Text(LEFT - 5, y - 5, bar.name, 6.0, "end", bold=True))
        items += _bar(bar.now_n, y - 6.0, run, FOUND if double else INK, language)
        if bar.new_n is not None:
            items += _bar(bar.new_n, y - 13.0, run, Pen("varnish", 0.35), language)
        y -= row
    items += below(rows, 12, under - 4, 3.8)
    return Drawing(WIDTH, height, tuple(items), say("arithmetic.picture_strings", language))
