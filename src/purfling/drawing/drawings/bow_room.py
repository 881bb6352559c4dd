"""The strings from the front with the bow's lines on each, and the waist's edges where they are known."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from purfling.drawing.lines import below, tall, wrapped
from purfling.drawing.shapes import AXIS, FOUND, Circle, Drawing, Item, Line, Path, Pen, Text
from purfling.words import decimal, say

WIDTH = 240.0


@dataclass(frozen=True)
class RoomView:
    """Names, places and heights [mm] and planes [degrees]; ``waist`` is (half width, edge height) or None."""

    names: Sequence[str]
    lateral_mm: Sequence[float]
    height_mm: Sequence[float]
    plane_deg: Sequence[float]
    waist: tuple[float, float] | None
    kept: Sequence[float] | None
    kept_lateral: Sequence[float] | None


def _bow(x: float, y: float, angle: float, reach: float, pen: Pen) -> Line:
    """A line through the string, falling by ``angle`` to the treble."""
    dx, dy = reach * math.cos(math.radians(angle)), -reach * math.sin(math.radians(angle))
    return Line(x - dx, y - dy, x + dx, y + dy, pen)


def _strings(view: RoomView, scale: float, middle: float, base: float, reach: float) -> list[Item]:
    items: list[Item] = []
    last = len(view.names) - 1
    for i, name in enumerate(view.names):
        x, y = middle + view.lateral_mm[i] * scale, base + view.height_mm[i] * scale
        outer = i in (0, last)
        if not outer:
            items.append(_bow(x, y, view.plane_deg[i], reach * 0.35, Pen("water", 0.25)))
        else:
            angle = math.radians(view.plane_deg[i])
            way = -1.0 if i == 0 else 1.0
            far = (x + way * reach * math.cos(angle), y - way * reach * math.sin(angle))
            near = (x - way * 0.25 * reach * math.cos(angle), y + way * 0.25 * reach * math.sin(angle))
            items.append(Line(*near, *far, Pen("varnish", 0.4)))
        items.append(Circle(x, y, 1.0, Pen("ink", 0.3), "ink"))
        items.append(Text(x, y + 4.5, name, 4.6, "middle", bold=True))
    for (a, b), (c, d) in zip(
        zip(view.lateral_mm, view.height_mm, strict=True),
        list(zip(view.lateral_mm, view.height_mm, strict=True))[2:],
        strict=False,
    ):
        items.append(
            Line(
                middle + a * scale,
                base + b * scale,
                middle + c * scale,
                base + d * scale,
                Pen("quiet", 0.2, (1.2, 0.8)),
            )
        )
    return items


def bow_room_drawing(view: RoomView, lines: Sequence[str], language: str = "en") -> Drawing:
    """Seen from the player's end of the bow's way, bass on the left."""
    half = view.waist[0] if view.waist else view.lateral_mm[-1] * 1.8
    scale = min((WIDTH - 40.0) / 2 / half, 4.0)
    floor = view.waist[1] - 6.0 if view.waist else min(view.height_mm) - 10.0
    top = max(view.height_mm) + 14.0 / scale
    rows = wrapped(lines, WIDTH - 24.0, 3.8)
    under = 8.0 + tall(rows, 3.8)
    height = (top - floor) * scale + 30.0 + under
    base, middle = under + 4.0 - floor * scale, WIDTH / 2
    note = say("arithmetic.times_size", language, times=decimal(scale, 2, language))
    items: list[Item] = [
        Text(12, height - 9, say("arithmetic.picture_room", language), 5.0, bold=True),
        Text(12, height - 15.5, note, 4.0, colour="ochre"),
        Line(middle, under + 4, middle, height - 24, AXIS),
        *_strings(view, scale, middle, base, (half - view.lateral_mm[-1]) * scale * 1.25),
    ]
    if view.waist:
        y = base + view.waist[1] * scale
        for way in (-1.0, 1.0):
            x = middle + way * view.waist[0] * scale
            inner = x - way * 14.0
            items.append(
                Path(
                    ((x, y), (inner, y + 1.5), (inner, y - 5.0), (x, y - 5.0)),
                    Pen("ink", 0.35),
                    True,
                    "spruce",
                )
            )
    if view.kept and view.kept_lateral:
        points = zip(view.kept_lateral, view.kept, strict=True)
        items.append(Path(tuple((middle + a * scale, base + b * scale) for a, b in points), FOUND))
    items += below(rows, 12, under - 4, 3.8)
    return Drawing(WIDTH, height, tuple(items), say("arithmetic.picture_room", language))
