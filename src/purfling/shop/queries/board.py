"""The board of a visit: its slip from card, readings and wishes; the plan on it; its places for the page."""

import copy
import json
import re
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any

from purfling.craft.quantities import readings
from purfling.craft.refusals import Refusal
from purfling.reckonings.dressing.compute import DressingCase, compute, with_after
from purfling.reckonings.setup.card import card_from_slip
from purfling.shop.domain.board import FIGURES, LINES, figure_name, place_name
from purfling.shop.domain.reckoning import slip_of
from purfling.shop.models import Board, BoardReading, VisitObject
from purfling.slips.reader import check_slip
from purfling.words import decimal

STATIONS = 7  # on a line, between nut and end
NEAR = 0.06  # of the board's length: a usual station so near to one that was read is not asked for
FEW_LINES, FEW_STATIONS = 2, 3  # fewer make no board
OF_CARD = ("body", "neck", "board", "nut", "end", "bridge", "saddle", "strings", "state", "tail", "post")
NEEDED = ("board.length_mm", "neck.string_length_mm")
PLACES = {"gap": 2, "across": 1, "pit": 2}  # decimals of a figure


@dataclass
class BoardSlip:
    """The tables a dressing is reckoned on; ``assumed``: drawn with its usual middle until measured."""

    tables: dict[str, Any]
    readings: list[BoardReading] = field(default_factory=list)
    board: Board | None = None
    assumed: list[str] = field(default_factory=list)
    card_is_whole: bool = False

    @property
    def length_mm(self) -> float:
        """The board's length, measured or usual."""
        return float(self.tables["board"]["length_mm"])

    def of(self, kind: str, moment: str = "found") -> list[BoardReading]:
        """The readings of a kind, by line and station."""
        return [r for r in self.readings if r.kind == kind and r.moment == moment]

    @property
    def enough(self) -> bool:
        """Whether there are lines enough to build a surface from."""
        return len(self.tables.get("line", [])) >= FEW_LINES and not self.assumed


def board_of(row: VisitObject) -> Board | None:
    """The visit's board with its readings, in two queries; None before its first figure."""
    return Board.objects.filter(visit_object=row).prefetch_related("readings").first()


def _whole_card(tables: dict[str, Any]) -> bool:
    try:
        card_from_slip(check_slip(tables, "dressing"))
    except Refusal:
        return False
    return True


def _edges(rows: list[BoardReading], least: int) -> list[dict[str, Any]]:
    found = []
    for line in LINES:
        own = sorted((r for r in rows if r.line == line), key=lambda r: r.station_mm)
        if len(own) >= least:
            stations, gaps = [r.station_mm for r in own], [r.value_mm for r in own]
            found.append({"string": line, "station_mm": stations, "gap_mm": gaps})
    return found


def _figures_into(tables: dict[str, Any], figures: dict[str, float], family: str) -> None:
    for key, value in figures.items():
        bare = re.sub(r"-[01]$", "", key)
        table, name = bare.split(".", maxsplit=1)
        own = tables.setdefault(table, {})
        if bare == key:
            own[name] = value
            continue
        band = readings()[f"board.{name}"].usual_band(family)
        assert band is not None
        own.setdefault(name, list(band))[int(key[-1])] = value


def board_slip(row: VisitObject, board: Board | None) -> BoardSlip:
    """The slip of a visit's board: its card where it is whole, its own figures and readings over it.

    A line counts from three stations on. Where the card does not hold a whole set-up, its clearances stay
    out and the tables stand in for them.
    """
    family = row.object.family
    card = slip_of(row).tables
    tables: dict[str, Any] = {k: copy.deepcopy(v) for k, v in card.items() if k in OF_CARD}
    found = BoardSlip(tables, board=board, card_is_whole=_whole_card(tables))
    if not found.card_is_whole:
        tables.pop("end", None)
        tables.get("nut", {}).pop("clearance_mm", None)
    if board is not None:
        found.readings = list(board.readings.all())
        _figures_into(tables, board.figures, family)
        if board.asked:
            tables["asked"] = dict(board.asked)
    for key in NEEDED:
        table, name = key.split(".")
        if tables.setdefault(table, {}).get(name) is None:
            low, high = readings()[key].usual_band(family) or (0.0, 0.0)
            tables[table][name] = round((low + high) / 2, 1)
            found.assumed.append(key)
    found.tables["line"] = _edges(found.of("gap"), FEW_STATIONS)
    across = [{"station_mm": r.station_mm, "radius_mm": r.value_mm} for r in found.of("across")]
    pits = [{"station_mm": r.station_mm, "line": r.line, "depth_mm": r.value_mm} for r in found.of("pit")]
    known = {edge["string"] for edge in tables["line"]}
    tables |= {"across": across, "pit": [p for p in pits if p["line"] in known]}
    found.tables = {k: v for k, v in tables.items() if v not in ([], {})}
    return found


@lru_cache(maxsize=32)
def _reckoned(tables: str) -> DressingCase:
    return compute(check_slip(json.loads(tables), "dressing"))


def reckoned_board(slip: BoardSlip) -> tuple[DressingCase, dict[str, Any]]:
    """The plan on the board as found with what the gaps after planing say, and the tables it ran on.

    The plan is kept in memory by its input, so that the gaps after planing answer at once.

    Raises
    ------
    Refusal
        As ``compute``.
    """
    case = _reckoned(json.dumps(slip.tables, sort_keys=True))
    after = _edges(slip.of("gap", "left"), FEW_STATIONS)
    if not after:
        return case, slip.tables
    tables = slip.tables | {"after": after}
    return with_after(case, check_slip(tables, "dressing")), tables


def stations_of(slip: BoardSlip, kind: str, line: str = "") -> list[float]:
    """Where a line is read: what was read, and between it the usual places."""
    length = slip.length_mm
    usual = [length * k / (STATIONS + 1) for k in range(1, STATIONS + 1)]
    if kind == "across":
        usual = [0.0, length / 2, length]
    own = {r.station_mm for r in slip.readings if r.kind == kind and (not line or r.line == line)}
    asked = {float(round(u)) for u in usual if all(abs(u - o) > NEAR * length for o in own)}
    return sorted(own | asked)


def places_of(slip: BoardSlip, moment: str, language: str) -> list[dict[str, Any]]:
    """Every place of the page in the order of the hand: line by line, then the templates, then grooves."""
    there = {(r.kind, r.line, r.station_mm): r.value_mm for r in slip.readings if r.moment == moment}
    order = [("gap", line, s) for line in LINES for s in stations_of(slip, "gap", line)]
    if moment == "found":
        order += [("across", "", s) for s in stations_of(slip, "across")]
        order += sorted(k for k in there if k[0] == "pit")
    found = []
    for kind, line, station in order:
        value = there.get((kind, line, station))
        found.append(
            {
                "kind": kind,
                "line": line,
                "station": station,
                "text": "" if value is None else decimal(value, PLACES[kind], language),
                "words": place_name(kind, line, station, language),
            }
        )
    return found


def figures_of_board(slip: BoardSlip, language: str) -> list[dict[str, Any]]:
    """The figures beside the readings, with what the card or the usual range holds in quiet ink."""
    own = slip.board.figures if slip.board else {}
    found: dict[str, dict[str, Any]] = {}
    for key in FIGURES:
        bare = re.sub(r"-[01]$", "", key)
        table, name = bare.split(".", maxsplit=1)
        given = own.get(key)
        quiet = slip.tables.get(table, {}).get(name) if bare not in slip.assumed and key == bare else None
        if key != bare:
            band = readings()[f"board.{name}"].usual_band(slip.tables["body"]["family"])
            quiet = band[int(key[-1])] if band else None
        line = found.setdefault(bare, {"key": bare, "words": figure_name(key, language), "boxes": []})
        line["asked"] = bare in slip.assumed
        decimals = 1 if table in ("board", "neck") or "radius" in name else 2
        shown = [None if v is None else decimal(v, decimals, language) for v in (given, quiet)]
        line["boxes"].append({"name": key, "value": shown[0] or "", "quiet": shown[1] or ""})
    return list(found.values())


def left_lines(slip: BoardSlip, case: DressingCase | None) -> list[dict[str, Any]]:
    """The board's card: gap as found, planned and left by line and station, and what is still high."""
    after = (case.answer.results.get("after") if case else None) or []
    high = {
        (row["string"], s): (p, h)
        for row in after
        for s, p, h in zip(row["station_mm"], row["planned_gap_mm"], row["still_high_mm"], strict=True)
    }
    gaps = {(r.moment, r.line, r.station_mm): r.value_mm for r in slip.readings if r.kind == "gap"}
    lines = []
    for line in LINES:
        rows = []
        for station in sorted({k[2] for k in gaps if k[1] == line}):
            found, left = (gaps.get((m, line, station)) for m in ("found", "left"))
            planned, still = high.get((line, station), (None, None))
            rows.append({"station": station, "found": found, "left": left, "planned": planned, "high": still})
        if rows:
            lines.append({"line": line, "rows": rows})
    return lines
