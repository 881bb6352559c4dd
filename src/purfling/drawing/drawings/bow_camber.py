"""The camber: an overlay with the height stretched and said so, and the strip at 1:1."""

from collections.abc import Sequence
from dataclasses import dataclass

from purfling.drawing.shapes import (
    FOUND,
    HAIR,
    QUIET,
    WISHED,
    Anchor,
    Circle,
    Drawing,
    Item,
    Line,
    Path,
    Pen,
    Text,
)
from purfling.words import decimal, say

STRETCH = 4.0


@dataclass(frozen=True)
class CamberCurve:
    """A camber: ``curve`` (place, depth) finely, ``stations`` (place, depth), its deepest point [mm]."""

    curve: Sequence[tuple[float, float]]
    stations: Sequence[tuple[float, float]]
    deepest: tuple[float, float]


def overlay(
    before: CamberCurve, after: CamberCurve | None, language: str = "en", width: float = 180.0
) -> Drawing:
    """Both cambers over one straight edge; depth downwards to the hair, stretched four times."""
    both = [before] if after is None else [before, after]
    low = min(c.curve[0][0] for c in both)
    high = max(c.curve[-1][0] for c in both)
    deep = max(max(d for _, d in c.curve) for c in both)
    margin = 10.0
    k = (width - 2 * margin) / (high - low)
    kv = k * STRETCH
    height = deep * kv + 34.0
    top = height - 14.0

    def put(x: float, d: float) -> tuple[float, float]:
        return margin + (x - low) * k, top - d * kv

    items: list[Item] = [Line(*put(low, 0), *put(high, 0), HAIR)]
    for mm in range(int(low // 100 + 1) * 100, int(high) + 1, 100):
        x, y = put(mm, 0)
        items += [Line(x, y, x, y + 2, QUIET), Text(x, y + 3, str(mm), 2.6, "middle", "quiet")]
    items.append(Text(margin, top + 8.5, say("bow.camber_edge", language), 2.8, colour="quiet"))
    for number, curve in enumerate(both):
        pen = (FOUND, WISHED)[number]
        items.append(Path(tuple(put(x, d) for x, d in curve.curve), pen, smooth=True))
        items += [Circle(*put(x, d), 0.7, Pen(pen.colour, 0.2), pen.colour) for x, d in curve.stations]
        x, y = put(*curve.deepest)
        text = say(
            ("bow.camber_before", "bow.camber_after")[number],
            language,
            depth=decimal(curve.deepest[1], 1, language),
            place=decimal(curve.deepest[0], 0, language),
        )
        side: tuple[float, Anchor] = ((-2.0, "end"), (2.0, "start"))[number]
        level = top - deep * kv - 6.0
        items.append(Line(x, y, x, level, Pen(pen.colour, 0.12)))
        items.append(Text(x + side[0], level, text, 3.0, side[1], pen.colour))
    note = say("bow.stretched", language, times=f"{STRETCH:g}", scale=decimal(1 / k, 2, language))
    items.append(Text(margin, 2.0, note, 2.8, colour="quiet"))
    return Drawing(width, height, tuple(items), say("bow.camber_title", language))


def camber_strip(before: CamberCurve, after: CamberCurve | None, language: str = "en") -> Drawing:
    """The camber at 1:1: straight edge above, the stick's curve below it, to cut as a gauge."""
    wished = before if after is None else after
    both = [before] if after is None else [before, after]
    low = min(c.curve[0][0] for c in both)
    high = max(c.curve[-1][0] for c in both)
    deep = max(max(d for _, d in c.curve) for c in both)
    margin = 8.0
    edge = deep + 16.0
    height = edge + 12.0

    def put(x: float, d: float) -> tuple[float, float]:
        return margin + x - low, edge - d

    items: list[Item] = [Line(*put(low, 0), *put(high, 0), HAIR)]
    for mm in range(int(-(-low // 10)) * 10, int(high) + 1, 10):
        x, y = put(mm, 0)
        long = 3.0 if mm % 50 == 0 else 1.5
        items.append(Line(x, y, x, y + long, HAIR))
        if mm % 50 == 0:
            items.append(Text(x, y + 4.0, str(mm), 2.4, "middle", "quiet"))
    if after is not None:
        items.append(Path(tuple(put(x, d) for x, d in before.curve), FOUND, smooth=True))
    items.append(Path(tuple(put(x, d) for x, d in wished.curve), Pen("ink", 0.25), smooth=True))
    for x, d in wished.stations:
        px, py = put(x, d)
        items += [
            Line(px, py - 1.5, px, py + 1.5, HAIR),
            Text(px, py - 5.0, decimal(d, 1, language), 2.4, "middle"),
        ]
    return Drawing(high - low + 2 * margin, height, tuple(items), say("bow.camber_strip", language))
