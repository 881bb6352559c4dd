"""What weight and balance can be reached with another lapping, and where the wish lies."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from purfling.drawing.shapes import HAIR, QUIET, Circle, Colour, Drawing, Item, Line, Path, Pen, Point, Text
from purfling.words import say

WIDTH, HEIGHT = 180.0, 120.0
LEFT, RIGHT, BOTTOM, TOP = 20.0, 34.0, 18.0, 12.0


@dataclass(frozen=True)
class Reach:
    """Outlines by material name and the points now, wished, nearest: (mass [g], balance [mm])."""

    outlines: Mapping[str, Sequence[Point]]
    now: Point
    wished: tuple[float | None, float | None]
    nearest: Point
    nearest_text: str
    datum: str


def _ticks(low: float, high: float) -> list[float]:
    step = next(s for s in (0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 1e9) if (high - low) / s <= 8)
    first = int(-(-low // step))
    return [step * i for i in range(first, int(high // step) + 1)]


def _mark(x: float, y: float, colour: Colour, text: str, up: float) -> list[Item]:
    return [
        Circle(x, y, 1.3, Pen(colour, 0.4), colour if up > 0 else "none"),
        Text(x + 2.2, y + (1.4 if up > 0 else -3.6), text, 3.0, "start", colour, bold=up > 0),
    ]


def reach_view(reach: Reach, language: str = "en") -> Drawing:
    """Mass along, balance upwards (from the datum); each material's region with its name."""
    points = [p for outline in reach.outlines.values() for p in outline] + [reach.now, reach.nearest]
    masses = [m for m, _ in points] + ([reach.wished[0]] if reach.wished[0] is not None else [])
    places = [b for _, b in points] + ([reach.wished[1]] if reach.wished[1] is not None else [])
    m0, m1, b0, b1 = min(masses) - 0.3, max(masses) + 0.3, min(places) - 1.0, max(places) + 1.0
    kx, ky = (WIDTH - LEFT - RIGHT) / (m1 - m0), (HEIGHT - BOTTOM - TOP) / (b1 - b0)

    def put(p: Point) -> Point:
        return LEFT + (p[0] - m0) * kx, BOTTOM + (p[1] - b0) * ky

    items: list[Item] = []
    for mass in _ticks(m0, m1):
        x, _ = put((mass, b0))
        items += [
            Line(x, BOTTOM, x, HEIGHT - TOP, Pen("spruce", 0.25)),
            Text(x, BOTTOM - 5, f"{mass:g}", 2.8, "middle", "quiet"),
        ]
    for place in _ticks(b0, b1):
        _, y = put((m0, place))
        items += [
            Line(LEFT, y, WIDTH - RIGHT, y, Pen("spruce", 0.25)),
            Text(LEFT - 2, y - 1, f"{place:g}", 2.8, "end", "quiet"),
        ]
    items += [Line(LEFT, BOTTOM, WIDTH - RIGHT, BOTTOM, HAIR), Line(LEFT, BOTTOM, LEFT, HEIGHT - TOP, HAIR)]
    ends = []
    for name, outline in reach.outlines.items():
        items.append(Path(tuple(put(p) for p in outline), QUIET, closed=True))
        ends.append((put(max(outline)), name))
    items += _names(ends)
    if reach.wished[0] is not None:
        x, _ = put((reach.wished[0], b0))
        items.append(Line(x, BOTTOM, x, HEIGHT - TOP, Pen("varnish", 0.25, (2.0, 1.2))))
    if reach.wished[1] is not None:
        _, y = put((m0, reach.wished[1]))
        items.append(Line(LEFT, y, WIDTH - RIGHT, y, Pen("varnish", 0.25, (2.0, 1.2))))
    items += _mark(*put(reach.now), "ink", say("bow.reach_now", language), -1.0)
    items += _mark(*put(reach.nearest), "varnish", reach.nearest_text, 1.0)
    items.append(Text((LEFT + WIDTH - RIGHT) / 2, 4.0, say("bow.reach_mass", language), 3.2, "middle"))
    label = say("bow.reach_balance", language, datum=say(f"bow.datum_{reach.datum}", language))
    items.append(Text(6.0, (BOTTOM + HEIGHT - TOP) / 2, label, 3.2, "middle", turn=90.0))
    items.append(Text(LEFT, HEIGHT - 7.0, say("bow.reach_title", language), 4.0, bold=True))
    return Drawing(WIDTH, HEIGHT, tuple(items), say("bow.reach_title", language))


def _names(ends: list[tuple[Point, str]]) -> list[Item]:
    """Names at the heavy ends of the regions, in a column at the right, never on top of one another."""
    found: list[Item] = []
    last = HEIGHT
    for (x, y), name in sorted(ends, key=lambda e: -e[0][1]):
        level = min(y, last - 4.2)
        last = level
        right = WIDTH - RIGHT + 3.0
        found += [
            Line(x, y, right - 0.8, level + 0.9, Pen("quiet", 0.1)),
            Text(right, level, name, 2.6, colour="quiet"),
        ]
    return found
