"""Map of the sound post's places against the treble foot, seen from above, ten times their size."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from purfling.drawing.lines import below, tall, wrapped
from purfling.drawing.shapes import FOUND, QUIET, WISHED, Circle, Colour, Drawing, Item, Line, Path, Pen, Text
from purfling.words import decimal, say

TIMES = 10.0
WIDTH = 240.0


@dataclass(frozen=True)
class Spot:
    """A place of the post: behind the foot, inside its outer edge [mm]; tried, now or wished."""

    name: str
    behind_mm: float
    inside_mm: float
    kind: Literal["tried", "now", "wished"]


PENS: dict[str, Pen] = {"tried": QUIET, "now": FOUND, "wished": WISHED}


def post_map(
    spots: Sequence[Spot], diameter_mm: float, lines: Sequence[str], language: str = "en"
) -> Drawing:
    """The treble foot's back edge runs across, its outer edge upright at the right; the tail lies below."""
    half = diameter_mm / 2.0
    deep = max(s.behind_mm for s in spots) + diameter_mm + 1.0
    rows = wrapped(lines, WIDTH - 24.0, 3.8)
    under = 10.0 + tall(rows, 3.8)
    top = 34.0
    height = top + 24.0 + max(deep, 6.0) * TIMES + under
    edge_x, edge_y = 176.0, height - top - 22.0
    items: list[Item] = [
        Text(12, height - 9, say("arithmetic.picture_post", language), 5.0, bold=True),
        Text(12, height - 15.5, say("arithmetic.times", language, times=f"{TIMES:g}"), 4.0, colour="ochre"),
        Path(
            ((40, edge_y), (edge_x, edge_y), (edge_x, edge_y + 18), (40, edge_y + 18)),
            Pen("ink", 0.35),
            True,
            "spruce",
        ),
        Text(48, edge_y + 7, say("arithmetic.treble_foot", language), 4.0),
        Line(edge_x, edge_y - max(deep, 6.0) * TIMES, edge_x, edge_y, Pen("quiet", 0.15, (2.0, 1.2))),
        Text(edge_x + 3, edge_y + 7, say("arithmetic.outside", language), 3.4, colour="quiet"),
        Text(
            12,
            edge_y - max(deep, 6.0) * TIMES + 2,
            say("arithmetic.tail_side", language),
            3.4,
            colour="quiet",
        ),
    ]
    for n, spot in enumerate(spots):
        x = edge_x - (spot.inside_mm + half) * TIMES
        y = edge_y - (spot.behind_mm + half) * TIMES
        pen = PENS[spot.kind]
        colour: Colour = "varnish" if spot.kind == "wished" else "ink"
        place = f"{decimal(spot.behind_mm, 1, language)} / {decimal(spot.inside_mm, 1, language)}"
        items.append(Circle(x, y, half * TIMES, pen))
        items.append(Line(x - 1.5, y, x + 1.5, y, pen))
        items.append(Line(x, y - 1.5, x, y + 1.5, pen))
        label = edge_y - 8 - 8.0 * n
        items.append(Line(x, y, edge_x + 4, label + 1, Pen("quiet", 0.1)))
        items.append(
            Text(edge_x + 6, label, f"{spot.name}: {place}", 3.6, "start", colour, spot.kind == "wished")
        )
    items += below(rows, 12, under - 6, 3.8)
    return Drawing(WIDTH, height, tuple(items), say("arithmetic.picture_post", language))
