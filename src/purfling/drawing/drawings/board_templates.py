"""1:1 templates for planing a board: a scoop strip for a string, and the arcs of both ends."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from purfling.drawing.shapes import (
    HAIR,
    Arc,
    Drawing,
    Group,
    Item,
    Line,
    Path,
    Pen,
    Point,
    Text,
    check_bars,
    placed,
)
from purfling.words import decimal, say

MARGIN = 9.0
STRIP_HEIGHT = 44.0
STRIP_EDGE = 17.0  # height of the strip's lower edge at both ends, on the sheet
STRIP_TOP = 34.0
CAUTION_EVERY = 90.0
CUT = Pen("varnish", 0.35)
ARC_HEIGHT = 62.0
CROWN = 36.0
SIDE = 7.0  # mm of template beyond the board's edges


def _cautions(width: float, y: float, language: str) -> list[Item]:
    """The caution along the foot, so that every cut-off row of a long strip carries it."""
    text = say("dressing.caution_strip", language)
    count = max(1, int((width - 2 * MARGIN) / CAUTION_EVERY))
    return [Text(MARGIN + k * CAUTION_EVERY, y, text, 2.4, colour="madder") for k in range(count)]


def scoop_strip(
    name: str, title: str, station: Sequence[float], depth: Sequence[float], language: str = "en"
) -> Drawing:
    """A strip whose lower edge is the planned surface under a string at true height, nut at 0.

    Parameters
    ----------
    name : id of the cutting line in SVG and DXF; station, depth : mm from the nut, mm below the straight
    edge.
    """
    length = station[-1]
    edge = [(MARGIN + x, STRIP_EDGE - d) for x, d in zip(station, depth, strict=True)]
    outline = (*edge, (MARGIN + length, STRIP_TOP), (MARGIN, STRIP_TOP))
    items: list[Item] = [Group(name, (Path(outline, CUT, closed=True),))]
    for mm in range(0, int(length) + 1):
        tall = 3.6 if mm % 10 == 0 else 2.4 if mm % 5 == 0 else 1.4
        x = MARGIN + mm
        items.append(Line(x, STRIP_TOP, x, STRIP_TOP - tall, HAIR))
        if mm % 20 == 0 and mm < length - 4:
            items.append(Text(x, STRIP_TOP - 6.8, str(mm), 2.4, "middle", "quiet"))
    items.append(Line(MARGIN, STRIP_EDGE, MARGIN + length, STRIP_EDGE, Pen("quiet", 0.1, (2.0, 1.5))))
    note = say("dressing.strip_note", language, name=title, scoop=decimal(max(depth), 2, language))
    items.append(Text(MARGIN, STRIP_TOP + 3.2, note, 2.6))
    width = length + 2 * MARGIN
    items += _cautions(width, 9.0, language)
    return Drawing(width, STRIP_HEIGHT, tuple(items), title)


def with_bars(drawing: Drawing, loud: str) -> Drawing:
    """The drawing on a sheet of its own with bars of 100.0 mm; ``loud``: what stands there in large type."""
    left, foot = 14.0, 9.0
    height = max(drawing.height + foot, 112.0)
    width = max(drawing.width + left, 120.0)
    items: list[Item] = [placed(i, left, height - drawing.height, 1.0) for i in drawing.items]
    items.append(Group("check-bars", check_bars(3.0, 3.0)))
    if loud:
        items.append(Text(left + 6.0, 14.0, loud, 7.0, colour="madder", bold=True))
    return Drawing(width, height, tuple(items), drawing.title)


@dataclass(frozen=True)
class EndArc:
    """The planned section at one end: ``name`` (id), ``said``, radius and half width [mm], flat from or
    None.
    """

    name: str
    said: str
    radius_mm: float
    half_mm: float
    flat_mm: float | None = None


def arc_templates(ends: Sequence[EndArc], language: str = "en") -> Drawing:
    """The arcs side by side, each a template laid over the board, crown up, bass side at the B."""
    items: list[Item] = []
    x = MARGIN
    for end in ends:
        reach = min(end.half_mm + SIDE, 0.98 * end.radius_mm)
        items += _end(end, x + reach, reach, language)
        x += 2 * reach + 10.0
    title = say("dressing.arc_title", language)
    items.append(Text(MARGIN, ARC_HEIGHT - 4.5, say("dressing.arc_note", language), 2.6))
    width = max(x - 10.0 + MARGIN, 120.0)
    items += _cautions(width, 3.0, language)
    return Drawing(width, ARC_HEIGHT, tuple(items), title)


def _end(end: EndArc, cx: float, reach: float, language: str) -> list[Item]:
    r = end.radius_mm
    cy = CROWN - r
    angle = math.degrees(math.asin(reach / r))
    low = CROWN - (r - math.sqrt(r * r - reach * reach))
    left: Point = (cx - reach, low)
    bass = 90.0 + angle
    cut: list[Item] = []
    if end.flat_mm is not None and end.flat_mm < reach:
        f = end.flat_mm
        root = math.sqrt(r * r - f * f)
        start = (cx - f, cy + root)
        left = (cx - reach, start[1] - f / root * (reach - f))
        bass = 90.0 + math.degrees(math.asin(f / r))
        cut.append(Line(*left, *start, CUT))
    cut.append(Arc(cx, cy, r, 90.0 - angle, bass, CUT))
    top = CROWN + 12.0
    frame = (left, (cx - reach, top), (cx + reach, top), (cx + reach, low))
    return [
        Group(end.name, tuple(cut)),
        Path(frame, HAIR),
        Line(cx, CROWN, cx, CROWN + 4, HAIR),
        *(Line(cx + s * end.half_mm, top, cx + s * end.half_mm, top - 3, HAIR) for s in (-1, 1)),
        Text(cx, CROWN + 6.0, end.said, 2.9, "middle"),
        Text(cx - reach + 1.2, top - 3.4, "B", 2.9, bold=True),
    ]
