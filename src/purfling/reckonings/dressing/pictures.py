"""The pictures of a dressing: removal map, long section, scoop strips and arc templates."""

from dataclasses import replace

import numpy as np

from purfling.craft.dressing import Plan, surface_of
from purfling.craft.dressing_after import planned_gap_mm
from purfling.craft.geometry import Array
from purfling.drawing.drawings.board_section import LongSection, board_section
from purfling.drawing.drawings.board_templates import EndArc, arc_templates, scoop_strip
from purfling.drawing.drawings.removal_map import MapPlaces, removal_map
from purfling.drawing.shapes import Drawing
from purfling.reckonings.dressing.compute import DressingCase
from purfling.words import decimal, say

HOLDS = ("lowest", "pit")


def _plan(case: DressingCase) -> Plan:
    assert case.plan is not None and case.drawn
    return case.plan


def _string_ends(case: DressingCase) -> list[tuple[float, float]]:
    board = case.surface.board
    return [tuple(row) for row in board.path_mm(np.array([0.0, board.board_length_mm])).T.tolist()]


def removal_drawing(case: DressingCase, language: str = "en") -> Drawing:
    """The removal map."""
    board, plan = case.surface.board, _plan(case)
    holds = {(b.station_mm, b.line_mm) for b in plan.binding if b.why in HOLDS and b.line_mm is not None}
    places = MapPlaces(
        length=board.board_length_mm,
        station=board.station_mm,
        line=board.lateral_mm,
        removal=plan.removal_mm,
        holds=tuple(sorted(holds)),
        pits=tuple(zip(board.pit_station_mm.tolist(), board.pit_lateral_mm.tolist(), strict=True)),
        strings=tuple(
            (name, *ends) for name, ends in zip(case.strings.names, _string_ends(case), strict=True)
        ),
    )
    return removal_map(places, language)


def _under(case: DressingCase, k: int, x: Array) -> tuple[Array, Array]:
    """Found and planned heights under a string at the board's stations."""
    board, plan = case.surface.board, _plan(case)
    y = board.path_mm(x)[:, k]
    planned = surface_of(plan, board, x, y)
    off = np.full(len(x), np.nan)
    for i in range(len(x)):
        seen = board.measured[i]
        if seen.any():
            off[i] = np.interp(y[i], board.lateral_mm[i, seen], plan.removal_mm[i, seen])
    known = np.isfinite(off)
    off = np.interp(x, x[known], off[known])
    return planned + off, planned


def section_drawing(case: DressingCase, language: str = "en") -> Drawing:
    """The board in long section under each string."""
    board, plan = case.surface.board, _plan(case)
    x = board.station_mm
    share = (x - x[0]) / (x[-1] - x[0])
    sections: list[LongSection] = []
    for k, name in enumerate(case.strings.names):
        found, planned = _under(case, k, x)
        line = found[0] * (1 - share) + found[-1] * share
        values = [tuple((z - line).tolist()) for z in (found, planned)]
        off = float((found - planned).max())
        sections.append(
            LongSection(name, tuple(x.tolist()), values[0], values[1], float(plan.scoop_mm[k]), off)
        )
    return board_section(sections, board.board_length_mm, language)


def template_drawings(case: DressingCase, language: str = "en") -> dict[str, Drawing]:
    """The 1:1 drawings by file name: a scoop strip for each outer string, the arcs of both ends."""
    board, plan = case.surface.board, _plan(case)
    x = np.unique(np.append(np.arange(0.0, board.board_length_mm, 1.0), board.board_length_mm))
    ends = _string_ends(case)
    found: dict[str, Drawing] = {}
    for k, side in ((0, "low"), (-1, "high")):
        depth = planned_gap_mm(plan, board, ends[k], x)
        depth[[0, -1]] = 0.0
        title = f"{say(f'dressing.strip_{side}', language)} ({case.strings.names[k]})"
        name = f"scoop-{side}"
        strip = scoop_strip(name, case.strings.names[k], x.tolist(), depth.tolist(), language)
        found[name] = replace(strip, title=title)
    arcs: list[EndArc] = []
    for row, side, radius in ((0, "nut", plan.radius_nut_mm), (-1, "end", plan.radius_end_mm)):
        said = say(f"dressing.arc_{side}", language, radius=decimal(radius, 1, language))
        half = float(np.abs(board.lateral_mm[row]).max())
        arcs.append(EndArc(f"arc-{side}", said, radius, half, board.flat_low_mm))
    found["arcs"] = arc_templates(arcs, language)
    return found
