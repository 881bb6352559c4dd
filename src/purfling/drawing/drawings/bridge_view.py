"""The bridge from the front, to scale from a set-up: feet, crown, notches, strings, board's end, loads."""

import math
from collections.abc import Mapping

import numpy as np

from purfling.craft.card import Card
from purfling.craft.geometry import surface
from purfling.craft.setup import Setup
from purfling.drawing.shapes import (
    AXIS,
    FOUND,
    QUIET,
    WISHED,
    Circle,
    Drawing,
    Group,
    Item,
    Line,
    Path,
    Pen,
    Point,
    Text,
    arc_points,
    dimension,
    placed,
)

BEYOND = 3.0  # mm, crown beyond the outer strings
WORDS = {
    "bass": "bass",
    "treble": "treble",
    "found": "as found",
    "wished": "wished",
    "line": "board line",
}


def crown_points(card: Card, setup: Setup, beyond: float = BEYOND, n: int = 81) -> list[Point]:
    """Points of the crown curve from bass to treble, over the belly's height at the centre [mm]."""
    half = card.bridge_spacing_mm / 2 + beyond
    curve = setup.crown_curve
    return arc_points(curve.radius_mm, curve.lateral_mm, curve.height_mm, -half, half, n)


def notch_points(card: Card, setup: Setup, beyond: float = BEYOND, n: int = 81) -> list[Point]:
    """Points of the notch curve from bass to treble [mm]."""
    half = card.bridge_spacing_mm / 2 + beyond
    curve = setup.notch_curve
    return arc_points(curve.radius_mm, curve.lateral_mm, curve.height_mm, -half, half, n)


def body_outline(card: Card, crown: list[Point]) -> tuple[Point, ...]:
    """A plain bridge between feet and crown: true in span, feet and crown, the legs our own plain form."""
    half, foot = card.foot_span_mm / 2, card.foot_length_mm
    height = crown[len(crown) // 2][1]
    inner = half - foot
    waist_x, waist_y = 0.66 * half, 0.34 * height
    arch_top = 0.27 * height
    arch = [
        (-inner * math.cos(math.pi * i / 24), 1.8 + (arch_top - 1.8) * math.sin(math.pi * i / 24))
        for i in range(25)
    ]
    side = [
        (half, 0.0),
        (half, 0.045 * height),
        (half - 0.22 * foot, 0.085 * height),
        (waist_x + 0.2 * foot, 0.20 * height),
        (waist_x, waist_y),
        (waist_x + 0.12 * foot, 0.50 * height),
    ]
    left = [(-x, y) for x, y in side]
    return (*left, *crown, *reversed(side), (inner, 0.0), *reversed(arch), (-inner, 0.0))


def _board_end(card: Card) -> list[Point]:
    half = (card.width_end_mm or card.bridge_spacing_mm + 9.0) / 2
    half = min(half, card.radius_end_mm * 0.98)
    lateral = np.linspace(-half, half, 61)
    depth = surface(np.full(61, card.radius_end_mm), lateral, card.flat_low_mm)
    return [(float(x), card.projection_mm + float(z)) for x, z in zip(lateral, depth, strict=True)]


def _figure(value: float, decimals: int, point: str) -> str:
    return f"{value:.{decimals}f}".replace(".", point)


def _strings(card: Card, setup: Setup, point: str) -> list[Item]:
    items: list[Item] = []
    for place, string in zip(setup.strings, card.strings, strict=True):
        radius = string.diameter_mm / 2
        y = place.notch_height_mm + radius
        items.append(Circle(place.lateral_mm, y, radius, Pen("ink", 0.1), fill="ink"))
        items.append(Text(place.lateral_mm, y + 4.4, place.name, 2.6, "middle", bold=True))
        items.append(Text(place.lateral_mm, y + 1.9, _figure(place.crown_height_mm, 1, point), 2.1, "middle"))
    return items


def bridge_view(
    card: Card,
    found: Setup,
    wished: Setup | None = None,
    scale: float = 2.0,
    words: Mapping[str, str] | None = None,
) -> Drawing:
    """The bridge from the front, bass at the left.

    Parameters
    ----------
    card : the card whose feet and board's end are drawn; found, wished : set-ups, wished may be None;
    scale : mm of paper for one mm; words : bass, treble, found, wished, line.
    """
    say = {**WORDS, **(words or {})}
    point = say.get("decimal", ".")
    shown = wished or found
    crown = crown_points(card, shown)
    top = max(found.crown_centre_height_mm, shown.crown_centre_height_mm)
    half = card.foot_span_mm / 2
    width, height = card.foot_span_mm + 34.0, top + 17.0
    items: list[Item] = [
        Path(body_outline(card, crown), Pen("ink", 0.2), closed=True, fill="spruce"),
        Path(tuple(_board_end(card)), QUIET),
        Line(-half - 6, 0, half + 6, 0, QUIET),
        Line(0, -1.5, 0, top + 2.0, AXIS),
        Line(-half - 3, card.projection_mm, half + 3, card.projection_mm, AXIS),
        Text(half + 3.6, card.projection_mm - 0.7, f"{say['line']}", 2.0, colour="quiet"),
        Text(
            half + 3.6, card.projection_mm - 3.2, _figure(card.projection_mm, 2, point), 2.0, colour="quiet"
        ),
    ]
    if wished is not None:
        items.append(Group("found-curve", (Path(tuple(crown_points(card, found)), FOUND, smooth=True),)))
    pen = WISHED if wished is not None else Pen("ink", 0.4)
    items.append(Group("crown-curve", (Path(tuple(crown), pen, smooth=True),)))
    items += _strings(card, shown, point)
    d = (card.foot_span_mm - card.foot_length_mm) / 2
    for x, force in ((-d, shown.load.bass_foot_n), (d, shown.load.treble_foot_n)):
        items.append(Text(x, -3.2, _figure(force, 1, point) + " N", 2.1, "middle"))
    centre = shown.crown_centre_height_mm
    items += dimension((-half - 1, 0), (-half - 1, centre), _figure(centre, 1, point), 4.5, 2.1)
    items.append(Text(-half - 10, -3.2, say["bass"], 2.3, colour="quiet"))
    items.append(Text(half + 10, -3.2, say["treble"], 2.3, "end", "quiet"))
    if wished is not None:
        items.append(Line(-8, -6.6, -2, -6.6, FOUND))
        items.append(Text(-9, -7.3, say["found"], 2.1, "end", "quiet"))
        items.append(Line(2, -6.6, 8, -6.6, WISHED))
        items.append(Text(9, -7.3, say["wished"], 2.1, colour="varnish"))
    shifted = tuple(placed(i, width / 2 * scale, 9.0 * scale, scale) for i in items)
    return Drawing(width * scale, height * scale, shifted, "bridge view")
