"""Slip -> tensions, loads and afterlengths of a set, and of a new set against it."""

from dataclasses import dataclass, replace
from typing import Any

from purfling.craft.afterlength import (
    TailMove,
    afterlength_pitch_hz,
    afterlength_target_mm,
    friction_cents,
    interval_cents,
    tail_move,
)
from purfling.craft.change import Wish, change
from purfling.craft.nut import gap_mm
from purfling.craft.refusals import Refusal
from purfling.craft.result import Answer, Default, Note, gravest
from purfling.craft.setup import Setup
from purfling.craft.strings import centres_even, gaps_even
from purfling.reckonings.setup.card import Taken, card_from_slip
from purfling.reckonings.setup.compute import Reckoned, reckon_card
from purfling.slips.reader import Slip

FORMULA = "T = mu (2 L f)^2; stated: T = T0 (L f / (L0 f0))^2; load = T (sin a + sin b); afterlength f L / La"
FRICTION = 0.1  # of a string in its notch: from memory, no source
KNOT = 0.0  # mm; the shop's own log


@dataclass(frozen=True)
class StringsCase:
    """A set and, where one is asked for, the new set, with the tailpiece's move."""

    reckoned: Reckoned
    taken_new: Taken | None
    new: Setup | None
    tail: TailMove | None
    answer: Answer


def new_set(slip: Slip, other: Slip | None) -> Slip | None:
    """The slip with the new set in place of its own: of a file, else of [[wish.strings]], else None."""
    if other is not None:
        rows = other.tables.get("strings")
        if not rows:
            raise Refusal("arithmetic.no_strings", path=other.name)
    else:
        rows = slip.tables.get("wish", {}).get("strings")
        if not rows:
            return None
    return Slip({**slip.tables, "strings": rows}, slip.name, slip.folder)


def _how(slip: Slip, name: str) -> str:
    for row in slip.rows("strings"):
        if row.text("name") == name:
            for key, word in (
                ("tension_n", "given"),
                ("density_g_per_m", "density"),
                ("stated_tension_n", "stated"),
            ):
                if row.has(key):
                    return word
    return "table"


def _rows(slip: Slip, taken: Taken, found: Setup, after_mm: float) -> list[dict[str, Any]]:
    length = taken.card.string_length_mm
    rows: list[dict[str, Any]] = []
    for place, string, pitch in zip(found.strings, taken.card.strings, taken.pitch_hz, strict=True):
        heard = afterlength_pitch_hz(pitch, length, after_mm)
        rows.append(
            {
                "name": place.name,
                "pitch_hz": pitch,
                "diameter_mm": string.diameter_mm,
                "tension_n": string.tension_n,
                "tension_from": _how(slip, place.name),
                "density_g_per_m": 1000.0 * string.tension_n / (2.0 * length / 1000.0 * pitch) ** 2,
                "down_force_n": place.down_force_n,
                "break_angle_deg": place.break_angle_deg,
                "afterlength_pitch_hz": heard,
                "afterlength_cents": interval_cents(6.0 * pitch, heard),
                "afterlength_bound_cents": friction_cents(FRICTION, 180.0 - place.break_angle_deg),
            }
        )
    return rows


def _loads(found: Setup) -> dict[str, float]:
    load = found.load
    return {
        "total_tension_n": load.total_tension_n,
        "total_down_force_n": load.total_down_force_n,
        "bass_foot_n": load.bass_foot_n,
        "treble_foot_n": load.treble_foot_n,
    }


def _tail(slip: Slip, length: float, defaults: list[Default]) -> tuple[TailMove | None, dict[str, Any]]:
    tail = slip.table("tail")
    now, gap = tail.number("afterlength_mm"), tail.number("gap_mm")
    wished = (
        slip.wished().table("tail").number("afterlength_mm")
        if slip.tables.get("wish", {}).get("tail")
        else None
    )
    target = afterlength_target_mm(length) if wished is None else wished
    if wished is None:
        defaults.append(Default("wish.tail.afterlength_mm", round(target, 2), "mm", "sixth"))
    knot = tail.number("knot_mm")
    if knot is None:
        knot = KNOT
        defaults.append(Default("tail.knot_mm", KNOT, "mm", "shop"))
    move = None if now is None else tail_move(now, target, gap, knot)
    shown: dict[str, Any] = {"afterlength_mm": now, "wished_mm": target, "knot_mm": knot}
    shown["move_mm"] = None if move is None else move.move_mm
    shown["loop_mm"] = None if move is None else move.loop_mm
    shown["gap_mm"] = None if move is None else move.gap_mm
    return move, shown


def _places(taken: Taken) -> dict[str, Any]:
    card = taken.card
    wide = [s.diameter_mm for s in card.strings]
    return {
        side: {
            "centres_mm": list(centres_even(spacing, len(wide))),
            "gaps_mm": list(gaps_even(spacing, wide)),
            "gap_mm": gap_mm(spacing, wide),
        }
        for side, spacing in (("nut", card.nut_spacing_mm), ("bridge", card.bridge_spacing_mm))
    }


def _against(found: Setup, new: Setup) -> dict[str, float]:
    before, after = _loads(found), _loads(new)
    shown = {key: after[key] - before[key] for key in before}
    shown["down_force_percent"] = 100.0 * shown["total_down_force_n"] / before["total_down_force_n"]
    return shown


def compute(slip: Slip, other: Slip | None = None) -> StringsCase:
    """Reckon the set of a slip; a new set comes from ``other`` or from [[wish.strings]].

    Raises
    ------
    Refusal
        As the set-up; a new set with other names or another number of strings.
    """
    reckoned = reckon_card(slip)
    taken, found = reckoned.taken, reckoned.setup
    length = taken.card.string_length_mm
    defaults: list[Default] = []
    notes: list[Note] = []
    move, tail = _tail(slip, length, defaults)
    if move is None:
        notes.append(Note("arithmetic.no_afterlength"))
    elif move.gap_mm is not None and move.gap_mm <= 0:
        notes.append(Note("arithmetic.tail_on_saddle", {"gap": round(move.gap_mm, 1)}))
    after_mm = tail["afterlength_mm"] or tail["wished_mm"]
    results: dict[str, Any] = {
        "strings": _rows(slip, taken, found, after_mm),
        "load": _loads(found),
        "tail": tail,
        "spacing": _places(taken),
        "formula": FORMULA,
    }
    fresh_slip = new_set(slip, other)
    fresh: Taken | None = None
    new: Setup | None = None
    if fresh_slip is not None:
        fresh = card_from_slip(fresh_slip)
        new = change(taken.card, Wish(new_strings=fresh.card.strings)).after
        results["new"] = {
            "strings": _rows(fresh_slip, fresh, new, after_mm),
            "load": _loads(new),
            "change": _against(found, new),
            "spacing": _places(fresh),
        }
        defaults += [d for d in fresh.defaults if d.field.startswith("strings") and d not in taken.defaults]
    base = reckoned.answer
    answer = replace(
        base,
        results=results,
        status=gravest(base.status, "estimate"),
        warnings=(*base.warnings, *notes),
        defaults=(*base.defaults, *defaults),
        sources=tuple(dict.fromkeys((*base.sources, "taylor", "sixth"))),
    )
    return StringsCase(reckoned, fresh, new, move, answer)
