"""Slip and wish -> what becomes of bridge, nut, projection, clearances and load."""

from dataclasses import dataclass, replace
from typing import Any

from purfling.craft.card import StringOn
from purfling.craft.change import Change, Wish, change
from purfling.craft.refusals import Refusal
from purfling.craft.result import Answer, Note
from purfling.reckonings.setup.card import card_from_slip
from purfling.reckonings.setup.compute import Reckoned, reckon_card
from purfling.slips.reader import Slip

SAME = 0.005  # mm; a smaller change is none
THIN = 3.5  # mm; a board edge below it is no board a hand likes: shop's own, no source
NEW_VALUE = 10.0  # mm; a projection of 10 and more is the projection itself, not its change


@dataclass(frozen=True)
class Asked:
    """What was asked for: the options of ``purfling change``; None where not given."""

    board_at_nut_mm: float = 0.0
    board_at_end_mm: float = 0.0
    nut_kept: bool = False
    clearance_at_end_mm: tuple[float, float] | None = None
    projection_mm: float | None = None
    strings: Slip | None = None


@dataclass(frozen=True)
class ChangeCase:
    """A change with the card it began from and its answer."""

    reckoned: Reckoned
    wish: Wish
    change: Change
    answer: Answer


def goes(value: float) -> str:
    """``DOWN``, ``UP`` or ``STAYS``."""
    if abs(value) < SAME:
        return "STAYS"
    return "DOWN" if value < 0 else "UP"


def in_proportion(ends: tuple[float, float], n: int) -> tuple[float, ...]:
    """Values of n strings between those of the lowest and the highest."""
    low, high = ends
    return tuple(low + (high - low) * i / (n - 1) for i in range(n))


def _with_strings(slip: Slip, other: Slip) -> Slip:
    if not other.rows("strings"):
        raise Refusal("arithmetic.no_strings", path=other.name)
    return Slip({**slip.tables, "strings": other.tables["strings"]}, slip.name, slip.folder)


def _wish(slip: Slip, reckoned: Reckoned, asked: Asked) -> Wish:
    card = reckoned.taken.card
    projection = asked.projection_mm or 0.0
    if projection >= NEW_VALUE:
        projection -= card.projection_mm
    clearance: tuple[float, ...] = ()
    if asked.clearance_at_end_mm is not None:
        clearance = in_proportion(asked.clearance_at_end_mm, len(card.strings))
    strings: tuple[StringOn, ...] = ()
    if asked.strings is not None:
        strings = card_from_slip(_with_strings(slip, asked.strings)).card.strings
    return Wish(
        board_at_nut_mm=asked.board_at_nut_mm,
        board_at_end_mm=asked.board_at_end_mm,
        nut_kept=asked.nut_kept,
        clearance_change_mm=clearance,
        projection_change_mm=projection,
        new_strings=strings,
    )


def _edges(slip: Slip, wish: Wish) -> tuple[dict[str, float], list[Note]]:
    """Board edges left at their thinnest place, if they were read."""
    off = max(wish.board_at_nut_mm, wish.board_at_end_mm)
    board = slip.table("board")
    left: dict[str, float] = {}
    notes: list[Note] = []
    for side in ("bass", "treble"):
        edge = board.number(f"edge_{side}_mm")
        if edge is None:
            continue
        left[side] = edge - off
        if left[side] <= 0:
            raise Refusal("arithmetic.board_gone", field=f"board.edge_{side}_mm", value=edge, off=off)
        if left[side] < THIN:
            notes.append(
                Note("arithmetic.edge_thin", {"side": side, "left": round(left[side], 2), "limit": THIN})
            )
    return left, notes


def compute(slip: Slip, asked: Asked) -> ChangeCase:
    """Reckon a change on the card of a slip.

    Raises
    ------
    Refusal
        As the set-up; a set without [[strings]]; wood off until nothing is left; a string in the board.
    """
    reckoned = reckon_card(slip)
    wish = _wish(slip, reckoned, asked)
    found = change(reckoned.taken.card, wish)
    edges, notes = _edges(slip, wish)
    base = reckoned.answer
    results: dict[str, Any] = {
        "bridge_mm": list(found.bridge_mm),
        "bridge_error_mm": found.bridge_error_mm,
        "bridge_goes": "TILTS"
        if goes(found.bridge_mm[0]) != goes(found.bridge_mm[-1])
        else goes(found.centre_mm),
        "centre_mm": found.centre_mm,
        "nut_mm": found.nut_mm,
        "projection_mm": found.projection_mm,
        "action_if_bridge_kept_mm": list(found.action_if_bridge_kept_mm),
        "down_force_change_n": found.down_force_change_n,
    }
    if edges:
        results["edge_left_mm"] = edges
    inputs: dict[str, Any] = {
        "--board-at-nut": wish.board_at_nut_mm,
        "--board-at-end": wish.board_at_end_mm,
        "--nut-kept": wish.nut_kept,
        "--projection": wish.projection_change_mm,
    }
    if wish.clearance_change_mm:
        inputs["--clearance-at-end"] = list(wish.clearance_change_mm)
    if wish.new_strings:
        inputs["--strings"] = [s.name for s in wish.new_strings]
    answer = replace(
        base, results=results, warnings=(*base.warnings, *notes), inputs={**inputs, **base.inputs}
    )
    return ChangeCase(reckoned, wish, found, answer)
