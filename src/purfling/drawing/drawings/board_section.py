"""The board in long section under each string: found and planned, heights stretched and said so."""

from collections.abc import Sequence
from dataclasses import dataclass

from purfling.drawing.drawings.removal_map import LEFT, WIDTH, map_scale
from purfling.drawing.shapes import AXIS, FOUND, HAIR, WISHED, Drawing, Item, Line, Path, Pen, Point, Text
from purfling.words import decimal, say

STRETCHES = (100, 80, 60, 50, 40, 30, 25, 20, 15, 10, 5, 2, 1)
PANEL = 24.0  # mm of paper that the deepest place may take
GAP = 10.0
TOP = 16.0
BOTTOM = 14.0


@dataclass(frozen=True)
class LongSection:
    """One string: heights [mm], found and planned, against the straight line between the found ends."""

    name: str
    station: tuple[float, ...]
    found: tuple[float, ...]
    planned: tuple[float, ...]
    scoop_mm: float
    off_mm: float


def stretch_of(sections: Sequence[LongSection], scale: float) -> int:
    """How many times the heights are stretched against the length: the most that fits."""
    deep = max(max(s.found + s.planned) - min(s.found + s.planned) for s in sections)
    return next((k for k in STRETCHES if k * scale * deep <= PANEL), 1)


def board_section(sections: Sequence[LongSection], length_mm: float, language: str = "en") -> Drawing:
    """One panel under the other, lowest string first, nut at the left."""
    scale = map_scale(length_mm)
    times = stretch_of(sections, scale)
    rise = scale * times
    deep = max(max(s.found + s.planned) - min(s.found + s.planned) for s in sections) * rise
    pitch = deep + GAP
    height = TOP + pitch * len(sections) + BOTTOM
    items: list[Item] = [
        Text(LEFT, height - 6, say("dressing.section_title", language), 4.6, bold=True),
        Text(
            LEFT, height - 11.5, say("dressing.section_sub", language, times=str(times)), 2.9, colour="quiet"
        ),
        Text(WIDTH - 8, height - 6, say("dressing.caution_strip", language), 2.9, "end", "madder"),
    ]
    for k, section in enumerate(sections):
        base = height - TOP - 7 - k * pitch - max(section.found + section.planned) * rise
        items += _panel(section, base, scale, rise, length_mm, language)
    items += _ruler(length_mm, scale, BOTTOM - 4)
    return Drawing(WIDTH, height, tuple(items), say("dressing.section_title", language))


def _panel(
    section: LongSection, base: float, scale: float, rise: float, length: float, language: str
) -> list[Item]:
    def at(heights: Sequence[float]) -> tuple[Point, ...]:
        return tuple(
            (LEFT + x * scale, base + z * rise) for x, z in zip(section.station, heights, strict=True)
        )

    found, planned = at(section.found), at(section.planned)
    said = say(
        "dressing.section_string",
        language,
        name=section.name,
        scoop=decimal(section.scoop_mm, 2, language),
        off=decimal(section.off_mm, 2, language),
    )
    bar = 0.5 * rise  # half a millimetre of height
    x = LEFT + length * scale + 3
    return [
        Path((*found, *reversed(planned)), Pen("none", 0.0), True, "spruce"),
        Line(LEFT, base, LEFT + length * scale, base, AXIS),
        Path(found, FOUND),
        Path(planned, WISHED),
        Text(LEFT - 3, base - 1.4, section.name, 4.6, "end", bold=True),
        Text(LEFT + 2, base + 1.6, said, 2.9),
        Line(x, base, x, base - bar, Pen("ink", 0.3)),
        Line(x - 0.8, base, x + 0.8, base, HAIR),
        Line(x - 0.8, base - bar, x + 0.8, base - bar, HAIR),
        Text(x + 1.4, base - bar / 2, decimal(0.5, 1, language), 2.4, colour="quiet"),
    ]


def _ruler(length: float, scale: float, base: float) -> list[Item]:
    found: list[Item] = [Line(LEFT, base, LEFT + length * scale, base, HAIR)]
    every = 20 if length < 350 else 50
    for mm in range(0, int(length) + 1, every):
        x = LEFT + mm * scale
        found += [Line(x, base, x, base - 1.4, HAIR), Text(x, base - 4.4, str(mm), 2.6, "middle", "quiet")]
    return found
