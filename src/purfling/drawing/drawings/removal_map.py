"""The removal map: the board from above, to scale, what comes off in hundredths, contours, what holds the
plan.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from purfling.drawing.contours import contour, finer
from purfling.drawing.shapes import HAIR, Circle, Drawing, Item, Line, Path, Pen, Point, Text
from purfling.words import decimal, say

WIDTH = 258.0
LEFT, RIGHT = 16.0, 8.0
BELOW, ABOVE = 23.0, 25.0
SCALES = (1.0, 0.9, 0.85, 0.8, 0.75, 0.7, 0.6, 0.5, 0.4, 0.35, 0.3, 0.25, 0.2)
STEPS = (0.02, 0.05, 0.1, 0.2, 0.5, 1.0)
ROOM = (6.6, 3.1)  # mm on paper between two figures, along and across
Grid = NDArray[np.float64]
Place = Callable[[float, float], Point]  # from the board to the sheet


@dataclass(frozen=True)
class MapPlaces:
    """What the map shows; x from the nut, y across (bass negative), all mm.

    ``removal`` (n, m) with NaN where not measured; ``holds`` and ``pits`` are (station, line); ``strings``
    name and lateral place at nut and end.
    """

    length: float
    station: Grid
    line: Grid
    removal: Grid
    holds: tuple[Point, ...]
    pits: tuple[Point, ...]
    strings: tuple[tuple[str, float, float], ...]


def map_scale(length_mm: float) -> float:
    """The largest plain scale at which the board fits the sheet."""
    return next((s for s in SCALES if s * length_mm <= WIDTH - LEFT - RIGHT), SCALES[-1])


def contour_step(deepest_mm: float) -> float:
    """Step of the contours [mm]: at most six lines."""
    return next((s for s in STEPS if deepest_mm / s <= 6.5), STEPS[-1])


def _thinned(places: Sequence[float], room: float) -> list[int]:
    """Indices whose places keep ``room`` from one another; first and last stay."""
    kept = [0]
    for k in range(1, len(places)):
        if places[k] - places[kept[-1]] >= room and (k == len(places) - 1 or places[-1] - places[k] >= room):
            kept.append(k)
    if len(places) > 1 and kept[-1] != len(places) - 1:
        kept.append(len(places) - 1)
    return kept


def removal_map(places: MapPlaces, language: str = "en") -> Drawing:
    """The board from above, nut at the left, bass side above."""
    scale = map_scale(places.length)
    half = float(np.abs(places.line).max())
    middle = BELOW + half * scale
    height = middle + half * scale + ABOVE

    def at(x: float, y: float) -> Point:
        return LEFT + x * scale, middle - y * scale

    deepest = float(np.nanmax(places.removal))
    step = contour_step(deepest)
    items: list[Item] = [_outline(places, at), *_strings(places, at)]
    items += _contours(places, at, step, deepest)
    items += _figures(places, at, scale)
    items += _marks(places, at)
    items += _ruler(places, at, half)
    shown = say("dressing.map_scale", language, scale=decimal(scale, 2, language))
    under = say("dressing.map_sub", language, scale=shown, step=decimal(step, 2, language))
    left, right = LEFT, LEFT + places.length * scale
    items += [
        Text(left, height - 6, say("dressing.map_title", language), 4.6, bold=True),
        Text(left, height - 11.5, under, 2.9, colour="quiet"),
        Text(left, height - 18.5, say("dressing.map_bass", language), 2.9, colour="quiet"),
        Text(left - 2, middle - 1, say("dressing.map_nut", language), 3.0, "middle", turn=90.0),
        Text(right + 4.5, middle, say("dressing.map_end", language), 3.0, "middle", turn=90.0),
        Text(left, 2.4, say("dressing.map_treble", language), 2.9, colour="quiet"),
        *_legend(left + 34, 2.4, language),
    ]
    return Drawing(WIDTH, height, tuple(items), say("dressing.map_title", language))


def _outline(places: MapPlaces, at: Place) -> Item:
    bass = [at(float(x), float(y)) for x, y in zip(places.station, places.line[:, 0], strict=True)]
    treble = [at(float(x), float(y)) for x, y in zip(places.station, places.line[:, -1], strict=True)]
    return Path((*bass, *reversed(treble)), Pen("ink", 0.35), True, "spruce")


def _strings(places: MapPlaces, at: Place) -> list[Item]:
    found: list[Item] = []
    for _, nut, end in places.strings:
        (x1, y1), (x2, y2) = at(0.0, nut), at(places.length, end)
        found.append(Line(x1, y1, x2, y2, Pen("quiet", 0.12, (3.0, 1.2))))
    return found


def _contours(places: MapPlaces, at: Place, step: float, deepest: float) -> list[Item]:
    times = max(1, min(8, 120 // max(places.removal.shape)))
    x = np.repeat(places.station[:, None], places.line.shape[1], axis=1)
    fx, fy, fz = (finer(v, times) for v in (x, places.line, places.removal))
    px, py = at(0.0, 0.0)
    unit = at(1.0, 1.0)
    found: list[Item] = []
    for k in range(1, int(deepest / step) + 1):
        pen = Pen("varnish", 0.16 + 0.07 * min(k, 5))
        lines = contour(px + fx * (unit[0] - px), py + fy * (unit[1] - py), fz, k * step)
        found += [Path(line, pen) for line in lines if len(line) > 1]
    return found


def _figures(places: MapPlaces, at: Place, scale: float) -> list[Item]:
    """What comes off, in hundredths, thinned out where the places lie close."""
    found: list[Item] = []
    rows = _thinned([float(x) * scale for x in places.station], ROOM[0])
    held = {(round(x, 3), round(y, 3)) for x, y in places.holds}
    for i in rows:
        for j in _thinned([float(y) * scale for y in places.line[i]], ROOM[1]):
            value = places.removal[i, j]
            if (round(float(places.station[i]), 3), round(float(places.line[i, j]), 3)) in held:
                continue  # the cross says that nothing comes off
            x, y = at(float(places.station[i]), float(places.line[i, j]))
            x = min(max(x, LEFT + 2.6), at(places.length, 0.0)[0] - 2.6)
            lift = 1.0 if j == 0 else -3.0 if j == places.line.shape[1] - 1 else -0.9  # edges: outside
            said = "·" if math.isnan(value) else f"{value * 100:.0f}"
            bold = not math.isnan(value) and value >= 0.995 * float(np.nanmax(places.removal)) > 0.005
            found.append(Text(x, y + lift, said, 2.6, "middle", "varnish" if bold else "ink", bold))
    return found


def _cross(x: float, y: float, size: float = 1.3) -> list[Item]:
    pen = Pen("moss", 0.35)
    return [
        Line(x - size, y - size, x + size, y + size, pen),
        Line(x - size, y + size, x + size, y - size, pen),
    ]


def _marks(places: MapPlaces, at: Place) -> list[Item]:
    found: list[Item] = []
    for x, y in places.holds:
        found += _cross(*at(x, y))
    found += [Circle(*at(x, y), 1.9, Pen("water", 0.4)) for x, y in places.pits]
    return found


def _ruler(places: MapPlaces, at: Place, half: float) -> list[Item]:
    """Stations in mm under the board."""
    base = at(0.0, half)[1] - 5.5
    left, right = at(0.0, 0.0)[0], at(places.length, 0.0)[0]
    found: list[Item] = [Line(left, base, right, base, HAIR)]
    every = 20 if places.length < 350 else 50
    for mm in range(0, int(places.length) + 1, 10):
        x = at(float(mm), 0.0)[0]
        long = 1.6 if mm % every == 0 else 0.8
        found.append(Line(x, base, x, base - long, HAIR))
        if mm % every == 0:
            found.append(Text(x, base - 4.4, str(mm), 2.6, "middle", "quiet"))
    return found


def _legend(x: float, y: float, language: str) -> list[Item]:
    hold, pit = say("dressing.map_hold", language), say("dressing.map_pit", language)
    return [
        *_cross(x, y + 1),
        Text(x + 3, y, hold, 2.9, colour="quiet"),
        Circle(x + 42, y + 1, 1.9, Pen("water", 0.4)),
        Text(x + 46, y, pit, 2.9, colour="quiet"),
        Line(x + 64, y + 1, x + 72, y + 1, Pen("quiet", 0.2, (3.0, 1.2))),
        Text(x + 74, y, say("dressing.map_strings", language), 2.9, colour="quiet"),
        Text(x + 108, y, say("dressing.caution_strip", language), 2.9, colour="madder"),
    ]
