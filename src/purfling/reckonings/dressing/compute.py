"""Slip -> answer of ``purfling dressing``."""

import math
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import numpy as np

from purfling.craft.dressing import Plan, dress
from purfling.craft.dressing_after import (
    dressings_left,
    margin_ratios,
    notch_change_mm,
    planned_gap_mm,
    still_high_mm,
    unseen_stretch,
)
from purfling.craft.dressing_board import DressingWish
from purfling.craft.dressing_places import measured_end
from purfling.craft.quantities import readings
from purfling.craft.refusals import Refusal
from purfling.craft.result import Answer, Note, Status
from purfling.reckonings.dressing.surface import FEW, Surface, take_edges, take_surface
from purfling.reckonings.dressing.take import (
    Strings,
    Taker,
    notes_asked,
    take_asked,
    take_strings,
    take_swing,
    take_wish,
)
from purfling.slips.board_csv import board_tables
from purfling.slips.reader import Slip, check_slip, decode, read_bytes

KEYS = (
    "objective_mm",
    "max_removal_mm",
    "mean_removal_mm",
    "removal_mm",
    "removal_error_mm",
    "surface",
    "binding",
    "edge_left_mm",
    "scoop_mm",
    "nut_change_mm",
    "projection_change_mm",
    "bridge_change_mm",
    "margin_ratio_after",
    "dressings_left",
)
INPUTS = ("body", "neck", "board", "nut", "bridge", "edge", "wish", "weights", "asked")
BRINK = 0.2  # of the shaken boards; a wish that more of them could not have stands on the brink
HIGH = 0.03  # mm; less than a feeler shows is down


@dataclass(frozen=True)
class DressingCase:
    """A reckoned dressing with what its pictures need; ``plan`` None where it is referred first."""

    answer: Answer
    strings: Strings
    surface: Surface
    wish: DressingWish
    plan: Plan | None

    @property
    def drawn(self) -> bool:
        """Whether there is a plan to work by."""
        return self.plan is not None and not self.plan.blocked_by


def with_csv(slip: Slip, csv_path: Path | None) -> Slip:
    """The slip with the readings of a CSV file in place of its own grid or lines."""
    path = csv_path
    if path is None:
        named = slip.table("grid").text("csv") if slip.has("grid") else None
        if named is None:
            return slip
        path = slip.folder / named
    tables = board_tables(decode(read_bytes(path), path.name), path.name)
    kept = {name: value for name, value in slip.tables.items() if name not in ("grid", "line")}
    return check_slip({**kept, **tables}, slip.name, slip.folder)


def compute(slip: Slip, csv_path: Path | None = None) -> DressingCase:
    """Reckon the dressing of a slip.

    Raises
    ------
    Refusal
        Family or a length missing, no board or two, nonsense (``craft.dressing_board.check_board``).
    """
    slip = with_csv(slip, csv_path)
    taker = Taker(slip)
    length, board_length = taker.needed("neck", "string_length_mm"), taker.needed("board", "length_mm")
    asked = take_asked(slip)
    wish = take_wish(taker)
    strings, slope = take_strings(taker, board_length, length)
    surface = take_surface(taker, strings, length, board_length, slope)
    swing = take_swing(taker)
    notes = notes_asked(asked)
    inputs = _plain({k: v for k, v in slip.tables.items() if k in INPUTS})
    sources = ("geometry", "dressing_lp", *dict.fromkeys(d.source for d in taker.defaults))
    defaults = tuple(taker.defaults)
    if asked.refer:
        refer: dict[str, Any] = {"refer_first": list(asked.refer)}
        answer = Answer(refer, "outside_validity", tuple(notes), inputs, defaults, sources)
        return DressingCase(answer, strings, surface, wish, None)
    board = surface.board
    plan = dress(board, wish, surface.error_mm, surface.loading)
    results, after_notes = _results(plan, surface, wish, strings, swing)
    if not plan.blocked_by:
        results["after"], more = _after(taker, plan, surface, strings)
        after_notes += more
    notes += taker.notes + _notes(plan, surface, wish) + after_notes
    status: Status = "infeasible" if plan.blocked_by else "estimate" if surface.fewest < FEW else "ok"
    wood = _wood(taker, wish)
    if not plan.blocked_by and plan.max_removal_mm > wood:
        status = "outside_validity"
        notes.append(
            Note("dressing.too_much", {"most": round(plan.max_removal_mm, 2), "wood": round(wood, 2)})
        )
    answer = Answer(results, status, tuple(notes), inputs, defaults, sources)
    return DressingCase(answer, strings, surface, wish, plan)


def with_after(case: DressingCase, slip: Slip) -> DressingCase:
    """A case reckoned without [[after]], and the gaps after planing of a slip laid against its plan.

    Raises
    ------
    Refusal
        A gap over the hard range, stations out of order.
    """
    if case.plan is None or not case.drawn:
        return case
    after, more = _after(Taker(slip), case.plan, case.surface, case.strings)
    results = {**case.answer.results, "after": after}
    warnings = (*case.answer.warnings, *more)
    return replace(case, answer=replace(case.answer, results=results, warnings=warnings))


def _wood(taker: Taker, wish: DressingWish) -> float:
    """What the thickest usual edge of the family has to give over the shop's least [mm]."""
    band = readings()["board.edge_bass_mm"].usual_band(taker.family)
    return max((band[1] if band else 0.0) - wish.least_mm, 0.5)


def _plain(value: Any) -> Any:
    """Inputs without NaN."""
    if isinstance(value, dict):
        return {k: _plain(v) for k, v in value.items()}
    if isinstance(value, list):
        return [_plain(v) for v in value]
    return None if isinstance(value, float) and not math.isfinite(value) else value


def _results(
    plan: Plan, surface: Surface, wish: DressingWish, strings: Strings, swing: Any
) -> tuple[dict[str, Any], list[Note]]:
    board = surface.board
    places = {
        "strings": list(strings.names),
        "station_mm": board.station_mm.tolist(),
        "line_mm": board.lateral_mm.tolist(),
        "height_error_mm": surface.error_mm,
    }
    blocked = [
        {"constraint": b.constraint, "bound": b.bound, "needed_mm": b.needed_mm, "limit_mm": b.limit_mm}
        for b in plan.blocked_by
    ]
    if blocked:
        return {**dict.fromkeys(KEYS), "blocked_by": blocked, **places, "after": None}, []
    lengths = (board.string_length_mm, board.board_length_mm, board.board_slope_deg)
    clearances = (strings.nut_clearance_mm, strings.end_clearance_mm)
    margin = margin_ratios(plan, board, *clearances, strings.pitch_hz, swing)
    results: dict[str, Any] = {
        "objective_mm": plan.objective_mm,
        "max_removal_mm": plan.max_removal_mm,
        "mean_removal_mm": plan.mean_removal_mm,
        "removal_mm": [[None if math.isnan(v) else float(v) for v in row] for row in plan.removal_mm],
        "removal_error_mm": plan.removal_error_mm,
        "surface": {
            "centre_mm": plan.centre_mm.tolist(),
            "tilt": plan.tilt.tolist(),
            "radius_nut_mm": plan.radius_nut_mm,
            "radius_end_mm": plan.radius_end_mm,
        },
        "binding": [{"station_mm": b.station_mm, "line_mm": b.line_mm, "why": b.why} for b in plan.binding],
        "edge_left_mm": {"bass": plan.edge_left_mm[0], "treble": plan.edge_left_mm[1]},
        "scoop_mm": plan.scoop_mm.tolist(),
        "nut_change_mm": -plan.centre_off_mm[0] + 0.0,
        "projection_change_mm": float(notch_change_mm(*plan.centre_off_mm, *lengths)),
        "bridge_change_mm": notch_change_mm(plan.off_nut_mm, plan.off_end_mm, *lengths).tolist(),
        "margin_ratio_after": margin.tolist(),
        "dressings_left": dressings_left(plan, wish.least_mm),
        "blocked_by": [],
        **places,
    }
    touching = [strings.names[i] for i, ratio in enumerate(margin) if ratio < 1]
    return results, [Note("dressing.margin_low", {"names": ", ".join(touching)})] if touching else []


def _notes(plan: Plan, surface: Surface, wish: DressingWish) -> list[Note]:
    board = surface.board
    found: list[Note] = []
    if surface.fewest < FEW:
        found.append(Note("dressing.too_few", {"n": surface.fewest, "usual": FEW}))
    rows = board.station_mm[board.measured.any(axis=1)]
    for which, (name, off) in enumerate((("nut", rows[0]), ("end", board.board_length_mm - rows[-1]))):
        if not measured_end(board, which):
            found.append(Note(f"dressing.prolonged_{name}", {"off": round(float(off), 1)}))
    missing = int((~board.measured).sum())
    if missing:
        found.append(Note("dressing.not_measured", {"n": missing, "of": board.measured.size}))
    if any(b.constraint.startswith("edge") and b.needed_mm < 0 for b in plan.blocked_by):
        found.append(Note("dressing.no_wood"))
    if plan.blocked_by:
        return found
    if plan.brink > BRINK:
        found.append(Note("dressing.brink", {"percent": round(100 * plan.brink)}))
    stretch = unseen_stretch(plan, board, wish, surface.seen_mm)
    if stretch is not None:
        found.append(
            Note(
                "dressing.unseen",
                {
                    "start": round(stretch.from_mm, 1),
                    "stop": round(stretch.to_mm, 1),
                    "depth": round(stretch.depth_mm, 2),
                    "adds": round(stretch.adds_mm, 2),
                },
            )
        )
    return found


def _after(
    taker: Taker, plan: Plan, surface: Surface, strings: Strings
) -> tuple[list[dict[str, Any]] | None, list[Note]]:
    """What the gaps after planing say against the plan, line by line."""
    board = surface.board
    edges = take_edges(taker, "after", strings, board.string_length_mm, board.board_length_mm)
    if not edges:
        return None, []
    found: list[dict[str, Any]] = []
    notes: list[Note] = []
    for edge in edges:
        x = np.array(edge.station_mm)
        if np.any(np.diff(x) <= 0) or x[-1] > board.board_length_mm:
            raise Refusal("dressing.after_order", line=edge.name)
        u = x / board.board_length_mm
        ends = [
            gap if abs(s - at) < 1e-6 else rest
            for s, gap, at, rest in (
                (x[0], edge.gap_mm[0], 0.0, 0.0),
                (x[-1], edge.gap_mm[-1], board.board_length_mm, edge.rocks_mm),
            )
        ]
        gap = np.array(edge.gap_mm) - ends[0] * (1 - u) - ends[1] * u
        planned = planned_gap_mm(plan, board, edge.lateral_mm, x)
        high = still_high_mm(plan, board, edge.lateral_mm, x, gap)
        found.append(
            {
                "string": edge.name,
                "station_mm": list(edge.station_mm),
                "gap_mm": gap.tolist(),
                "planned_gap_mm": planned.tolist(),
                "still_high_mm": high.tolist(),
            }
        )
        worst, least = int(np.argmax(high)), int(np.argmin(high))
        for code, index in (("still_high", worst), ("too_deep", least)):
            if abs(high[index]) > HIGH and (high[index] > 0) == (code == "still_high"):
                value = round(abs(float(high[index])), 2)
                params = {"line": edge.name, "value": value, "station": float(x[index])}
                notes.append(Note(f"dressing.{code}", params))
    if not notes:
        notes.append(Note("dressing.as_planned", {"limit": HIGH}))
    return found, notes
