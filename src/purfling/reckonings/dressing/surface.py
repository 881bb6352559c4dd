"""Slip -> the board as measured: a grid as it stands, or built from straight edges and templates."""

import math
from dataclasses import dataclass
from typing import Any

import numpy as np

from purfling.craft.dressing_board import MeasuredBoard
from purfling.craft.dressing_lines import (
    Built,
    Groove,
    StraightEdge,
    Template,
    build_surface,
    reading_effects,
)
from purfling.craft.geometry import Array
from purfling.craft.quantities import readings
from purfling.craft.refusals import Refusal
from purfling.craft.result import Note
from purfling.reckonings.dressing.take import Strings, Taker
from purfling.slips.view import View

FEW = 5  # stations on a line; fewer make an estimate
FEELER = "board.scoop_low_mm"  # the reading whose gauge error and hard range hold for gaps and heights


@dataclass(frozen=True)
class Surface:
    """The board with its doubt: ``error_mm`` one standard deviation of a height; ``few`` readings on a
    line.
    """

    board: MeasuredBoard
    error_mm: float
    form: str
    fewest: int
    built: Built | None
    seen_mm: Array  # stations that hold readings
    loading: Array | None = None  # effect of each reading on each height


def line_places(
    name: str, strings: Strings, length: float, board_length: float, where: str
) -> tuple[float, float]:
    """Lateral place of a line at nut and board's end [mm]: low, centre, high or a string's name."""
    if name == "centre":
        return 0.0, 0.0
    known = {"low": 0, "high": len(strings.names) - 1, **{s: i for i, s in enumerate(strings.names)}}
    if name not in known:
        choices = ", ".join(["low", "centre", "high", *strings.names])
        raise Refusal("slips.bad_choice", field=where, value=name[:40], choices=choices)
    k = known[name]
    at = float(strings.nut_mm[k])
    return at, at + (float(strings.bridge_mm[k]) - at) * board_length / length


def take_edges(
    taker: Taker, table: str, strings: Strings, length: float, board_length: float
) -> list[StraightEdge]:
    """The rows of [[line]] or [[after]]."""
    _, deepest = readings()[FEELER].hard_band(taker.family)
    found: list[StraightEdge] = []
    for row in taker.slip.rows(table):
        name = row.need_text("string")
        stations, gaps = row.need_numbers("station_mm"), row.need_numbers("gap_mm")
        if len(gaps) != len(stations):
            raise Refusal(
                "slips.wrong_length", field=row.path("gap_mm"), value=len(gaps), limit=len(stations)
            )
        for place, gap in enumerate(gaps, 1):
            if gap > deepest:
                field = f"{row.path('gap_mm')}[{place}]"
                limit = f"{deepest:g}"
                raise Refusal("slips.above_hard", field=field, value=f"{gap:g}", unit="mm", limit=limit)
        places = line_places(name, strings, length, board_length, row.path("string"))
        rocks = row.number("rocks_mm") or 0.0
        found.append(StraightEdge(name, places, tuple(stations), tuple(gaps), rocks))
    return found


def take_surface(taker: Taker, strings: Strings, length: float, board_length: float, slope: float) -> Surface:
    """The board of a slip.

    Raises
    ------
    Refusal
        Neither grid nor lines, both, rows of the wrong length, a pit of the other form.
    """
    slip = taker.slip
    has_grid, has_lines = slip.has("grid"), bool(slip.tables.get("line"))
    if has_grid and has_lines:
        raise Refusal("dressing.both_forms")
    if not has_grid and not has_lines:
        raise Refusal("dressing.no_surface")
    flat = taker.optional("board", "flat_low_mm")
    edges = [_edge(taker, side) for side in ("bass", "treble")]
    common: dict[str, Any] = {
        "board_length_mm": board_length,
        "string_length_mm": length,
        "string_nut_mm": strings.nut_mm,
        "string_bridge_mm": strings.bridge_mm,
        "board_slope_deg": slope,
        "flat_low_mm": flat,
        "edge_bass_mm": edges[0],
        "edge_treble_mm": edges[1],
    }
    if has_grid:
        return _grid(taker, slip.table("grid"), common)
    return _lines(taker, strings, common)


def _edge(taker: Taker, side: str) -> float | None:
    """Present thickness of an edge: [edge], or the card's board edge."""
    given = taker.slip.table("edge").number(f"{side}_mm")
    if given is None:
        given = taker.optional("board", f"edge_{side}_mm")
    if given is None:
        taker.notes.append(Note(f"dressing.no_edge_{side}"))
    return given


def _grid(taker: Taker, view: View, common: dict[str, Any]) -> Surface:
    stations = np.array(view.need_numbers("station_mm"))
    places = view.data.get("line_mm")
    if not isinstance(places, list) or not places:
        raise view.missing("line_mm")
    at_nut, at_end = np.array([_place(p, i) for i, p in enumerate(places, 1)]).T
    u = stations / common["board_length_mm"]
    lateral = np.multiply.outer(1 - u, at_nut) + np.multiply.outer(u, at_end)
    heights = _heights(view, len(stations), len(places))
    pits = [_grid_pit(row) for row in taker.slip.rows("pit")]
    pit = np.array(pits).reshape(len(pits), 3)
    board = MeasuredBoard(
        station_mm=stations,
        lateral_mm=lateral,
        height_mm=heights,
        pit_station_mm=pit[:, 0],
        pit_lateral_mm=pit[:, 1],
        pit_height_mm=pit[:, 2],
        **common,
    )
    return Surface(
        board,
        taker.gauge("height_mm", FEELER),
        "grid",
        len(stations),
        None,
        stations[board.measured.any(axis=1)],
    )


def _place(value: Any, number: int) -> tuple[float, float]:
    pair = value if isinstance(value, list) else [value, value]
    if len(pair) != 2 or not all(isinstance(v, int | float) and not isinstance(v, bool) for v in pair):
        raise Refusal("slips.not_a_number", field=f"grid.line_mm[{number}]", value=str(value)[:40], unit="mm")
    return float(pair[0]), float(pair[1])


def _heights(view: View, n: int, m: int) -> Array:
    rows = view.data.get("height_mm")
    if not isinstance(rows, list):
        raise view.missing("height_mm")
    if len(rows) != n:
        raise Refusal("slips.wrong_length", field="grid.height_mm", value=len(rows), limit=n)
    field = view.table.field("height_mm")
    found = np.full((n, m), math.nan)
    for i, row in enumerate(rows):
        if not isinstance(row, list) or len(row) != m:
            count = len(row) if isinstance(row, list) else 1
            raise Refusal("slips.wrong_length", field=f"grid.height_mm[{i + 1}]", value=count, limit=m)
        for j, value in enumerate(row):
            if isinstance(value, float) and math.isnan(value):
                continue
            found[i, j] = view.checked(value, field, f"grid.height_mm[{i + 1}][{j + 1}]")
    return found


def _grid_pit(row: View) -> tuple[float, float, float]:
    if row.has("line") or row.has("depth_mm"):
        raise Refusal("dressing.pit_of_lines", where=row.where)
    return row.need_number("station_mm"), row.need_number("line_mm"), row.need_number("height_mm")


def _lines(taker: Taker, strings: Strings, common: dict[str, Any]) -> Surface:
    length, board_length = common["string_length_mm"], common["board_length_mm"]
    edges = take_edges(taker, "line", strings, length, board_length)
    templates = [
        Template(r.need_number("station_mm"), r.need_number("radius_mm"), r.number("rocks_mm") or 0.0)
        for r in taker.slip.rows("across")
    ]
    if not templates:
        templates = _board_radii(taker, board_length)
    by_name = {e.name: e for e in edges}
    grooves: list[Groove] = []
    for row in taker.slip.rows("pit"):
        if row.has("line_mm") or row.has("height_mm"):
            raise Refusal("dressing.pit_of_grid", where=row.where)
        name = row.need_text("line")
        if name not in by_name:
            choices = ", ".join(by_name)
            raise Refusal("slips.bad_choice", field=row.path("line"), value=name[:40], choices=choices)
        grooves.append(Groove(row.need_number("station_mm"), by_name[name], row.need_number("depth_mm")))
    half = (taker.own("board", "width_nut_mm") / 2, taker.own("board", "width_end_mm") / 2)
    gap_error = taker.gauge("gap_mm", FEELER)
    radius_error = taker.gauge("radius_mm", "board.radius_end_mm")
    built = build_surface(
        edges, templates, grooves, board_length, half, common["flat_low_mm"], gap_error, radius_error
    )
    board = MeasuredBoard(
        station_mm=built.station_mm,
        lateral_mm=built.lateral_mm,
        height_mm=built.height_mm,
        pit_station_mm=built.pit_station_mm,
        pit_lateral_mm=built.pit_lateral_mm,
        pit_height_mm=built.pit_height_mm,
        **common,
    )
    taker.notes.append(Note("dressing.built", {"doubt": round(built.doubt_mm, 3)}))
    if built.template_off_mm > 2 * gap_error:
        taker.notes.append(Note("dressing.template_off", {"off": round(built.template_off_mm, 2)}))
    seen = np.unique(np.concatenate([np.array(e.station_mm) for e in edges]))
    loading = reading_effects(
        edges, templates, board_length, half, common["flat_low_mm"], gap_error, radius_error
    )
    fewest = min(len(e.station_mm) for e in edges)
    return Surface(board, built.doubt_mm, "lines", fewest, built, seen, loading)


def _board_radii(taker: Taker, board_length: float) -> list[Template]:
    """Radii of the card where no template row is given; none is a refusal."""
    view = taker.slip.table("board")
    nut, end = view.number("radius_nut_mm"), view.number("radius_end_mm")
    if nut is None or end is None:
        raise Refusal("dressing.no_template")
    return [Template(0.0, nut), Template(board_length, end)]
