"""The board from above, drawn from its own numbers, its places as targets of at least 48 px."""

from dataclasses import dataclass, replace
from typing import Any

from django.utils.safestring import SafeString, mark_safe

from purfling.drawing.drawings.removal_map import map_scale
from purfling.drawing.shapes import Text
from purfling.drawing.svg import to_svg
from purfling.reckonings.dressing.compute import DressingCase
from purfling.reckonings.dressing.pictures import removal_drawing
from purfling.reckonings.dressing.surface import line_places
from purfling.reckonings.dressing.take import Strings, Taker, take_strings
from purfling.shop.queries.board import BoardSlip
from purfling.shop.setup_sheet import BY_NAME
from purfling.slips.reader import check_slip
from purfling.words import decimal, say

WIDTH = 976.0  # px of the drawing at its own size; it never shrinks below
TOUCH = 48.0
LEFT, RIGHT = 46.0, 46.0
APART = 52.0  # px between two lines at the first station
STRETCHES = (1.0, 1.5, 2.0, 2.5, 3.0, 3.5, 4.0)
ABOVE, BELOW, TEMPLATES = 26.0, 26.0, 58.0
N = "{:.1f}".format


@dataclass(frozen=True)
class BoardPlan:
    """Where the board lies on the page: px per mm along, and how often the width is stretched."""

    length_mm: float
    half_nut_mm: float
    half_end_mm: float
    lines: dict[str, tuple[float, float]]
    px: float
    stretch: float

    @property
    def middle(self) -> float:
        """The centre line on the page [px]."""
        return ABOVE + self.half_end_mm * self.px * self.stretch

    def at(self, station_mm: float, lateral_mm: float) -> tuple[float, float]:
        """A place of the board on the page; the bass side lies above."""
        return LEFT + station_mm * self.px, self.middle + lateral_mm * self.px * self.stretch

    def on_line(self, line: str, station_mm: float) -> tuple[float, float]:
        """A place on a line."""
        nut, end = self.lines[line]
        return self.at(station_mm, nut + (end - nut) * station_mm / self.length_mm)


def _strings(taker: Taker, slip: BoardSlip) -> Strings:
    return take_strings(taker, slip.length_mm, float(slip.tables["neck"]["string_length_mm"]))[0]


def plan_of(slip: BoardSlip, first_mm: float) -> BoardPlan:
    """The board's place on the page: at one scale along, the width stretched until a finger fits between."""
    taker = Taker(check_slip(slip.tables, "dressing"))
    strings = _strings(taker, slip)
    length, string_length = slip.length_mm, float(slip.tables["neck"]["string_length_mm"])
    lines = {n: line_places(n, strings, string_length, length, n) for n in ("low", "centre", "high")}
    half = [taker.own("board", key) / 2 for key in ("width_nut_mm", "width_end_mm")]
    px = (WIDTH - LEFT - RIGHT) / length
    trial = BoardPlan(length, half[0], half[1], lines, px, 1.0)
    rows = [trial.on_line(n, first_mm)[1] for n in lines]
    gap = min(rows[1] - rows[0], rows[2] - rows[1])
    stretch = next((s for s in STRETCHES if s * gap >= APART), STRETCHES[-1])
    return BoardPlan(length, half[0], half[1], lines, px, stretch)


def _target(x: float, y: float, place: dict[str, Any], number: int) -> str:
    wide = 64.0 if place["kind"] == "gap" else 76.0
    return (
        f'<g class="place" role="button" tabindex="-1" data-place="{number}" aria-label="{place["words"]}">'
        f'<rect x="{N(x - wide / 2)}" y="{N(y - TOUCH / 2)}" width="{N(wide)}" height="{N(TOUCH)}" rx="3"/>'
        f'<circle cx="{N(x)}" cy="{N(y)}" r="5"/>'
        f'<text x="{N(x)}" y="{N(y + 7)}" class="read">{place["text"]}</text>'
        f'<text x="{N(x)}" y="{N(y + 21)}" class="still"></text></g>'
    )


def _wood(plan: BoardPlan, language: str) -> list[str]:
    corners = ((0.0, -plan.half_nut_mm), (plan.length_mm, -plan.half_end_mm))
    bass = [plan.at(*c) for c in corners]
    treble = [plan.at(x, -y) for x, y in reversed(corners)]
    points = " ".join(f"{N(x)},{N(y)}" for x, y in (*bass, *treble))
    found = [f'<polygon class="wood" points="{points}"/>']
    for line in plan.lines:
        (x1, y1), (x2, y2) = plan.on_line(line, 0.0), plan.on_line(line, plan.length_mm)
        ends = f'x1="{N(x1)}" y1="{N(y1)}" x2="{N(x2)}" y2="{N(y2)}"'
        found.append(f'<line class="edge-line" {ends}/>')
        found.append(f'<line class="touch-line" data-line="{line}" {ends}/>')
    top, low = bass[1][1], treble[0][1]
    names = (("bass", LEFT, top - 6), ("treble", LEFT, low + 2))
    found += [
        f'<text class="name" x="{N(x)}" y="{N(y)}">{say(f"papers.{w}", language)}</text>' for w, x, y in names
    ]
    scale = say("board.scale", language, stretch=decimal(plan.stretch, 1, language))
    found.append(f'<text class="name end" x="{N(WIDTH - RIGHT)}" y="{N(top - 6)}">{scale}</text>')
    for word, x in (("nut", LEFT - 12), ("end", WIDTH - RIGHT + 26)):
        turn = f"rotate(-90 {N(x)} {N(plan.middle)})"
        found.append(
            f'<text class="name middle" x="{N(x)}" y="{N(plan.middle)}" transform="{turn}">'
            f"{say(f'dressing.map_{word}', language)}</text>"
        )
    return found


def removal_picture(case: DressingCase, language: str) -> SafeString:
    """The removal map in the page's colours; a screen has no scale of print."""
    drawing = removal_drawing(case, language)
    scale = decimal(map_scale(case.surface.board.board_length_mm), 2, language)
    printed = say("dressing.map_scale", language, scale=scale)
    items = tuple(
        replace(i, text=i.text.replace(printed, say("board.map_scale", language)))
        if isinstance(i, Text)
        else i
        for i in drawing.items
    )
    return mark_safe(to_svg(replace(drawing, items=items), BY_NAME))


def board_picture(
    slip: BoardSlip, places: list[dict[str, Any]], language: str
) -> tuple[SafeString, BoardPlan]:
    """The board as SVG, and where it lies."""
    gaps = [p["station"] for p in places if p["kind"] == "gap"]
    plan = plan_of(slip, min(gaps))
    low = plan.middle + plan.half_end_mm * plan.px * plan.stretch
    parts = _wood(plan, language)
    for number, place in enumerate(places):
        if place["kind"] == "pit":
            continue
        if place["kind"] == "across":
            x = plan.at(place["station"], 0.0)[0]
            y = low + BELOW + TEMPLATES - TOUCH / 2 - 4
            parts.append(f'<path class="template" d="M{N(x - 26)} {N(y - 22)} q26 -12 52 0"/>')
            parts.append(_target(x, y, place, number))
            continue
        x, y = plan.on_line(place["line"], place["station"])
        parts.append(_target(x, y, place, number))
    for station in sorted(set(gaps)):
        x = plan.at(station, 0.0)[0]
        parts.append(f'<text class="name middle" x="{N(x)}" y="{N(low + 18)}">{station:g}</text>')
    parts.append('<g id="grooves"></g>')
    height = low + BELOW + (TEMPLATES if any(p["kind"] == "across" for p in places) else 0.0)
    title = say("board.picture", language)
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" id="board" viewBox="0 0 {N(WIDTH)} {N(height)}"'
        f' role="group" aria-label="{title}">{"".join(parts)}</svg>'
    )
    return mark_safe(svg), plan
