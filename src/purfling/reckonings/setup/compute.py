"""Slip -> set-up answer: the results of ``purfling setup``."""

from dataclasses import dataclass
from typing import Any

from purfling.craft.card import Card
from purfling.craft.refusals import Refusal
from purfling.craft.result import Answer, Note, Status
from purfling.craft.setup import Setup, setup
from purfling.reckonings.setup.card import Filler, Taken, card_from_slip, readings_given
from purfling.slips.reader import Slip

SLOPES_DISAGREE = 0.5  # degrees
QUIET_DEFAULTS = ("gauge.", "bridge.notch_depth_mm", "board.scoop_", ": pitch_hz")


@dataclass(frozen=True)
class Reckoned:
    """A card and its set-up, with the answer that says so."""

    taken: Taken
    setup: Setup
    answer: Answer


def string_results(found: Setup) -> list[dict[str, Any]]:
    """Per string, lowest to highest."""
    return [
        {
            "name": s.name,
            "lateral_mm": s.lateral_mm,
            "notch_height_mm": s.notch_height_mm,
            "notch_height_error_mm": s.notch_height_error_mm,
            "crown_height_mm": s.crown_height_mm,
            "over_board_line_mm": s.over_board_line_mm,
            "nut_angle_deg": s.nut_angle_deg,
            "tail_angle_deg": s.tail_angle_deg,
            "break_angle_deg": s.break_angle_deg,
            "tension_n": s.tension_n,
            "down_force_n": s.down_force_n,
            "edge_margin_nut_mm": s.edge_margin_nut_mm,
            "edge_margin_end_mm": s.edge_margin_end_mm,
        }
        for s in found.strings
    ]


def results(found: Setup) -> dict[str, Any]:
    """The ``results`` of a set-up."""
    return {
        "strings": string_results(found),
        "bridge": {
            "notch_curve_radius_mm": found.notch_curve.radius_mm,
            "notch_curve_centre_lateral_mm": found.notch_curve.lateral_mm,
            "centre_height_mm": found.centre_height_mm,
            "crown_curve_radius_mm": found.crown_curve.radius_mm,
            "crown_centre_height_mm": found.crown_centre_height_mm,
        },
        "board_slope_deg": found.board_slope_deg,
        "load": {
            "total_tension_n": found.load.total_tension_n,
            "total_down_force_n": found.load.total_down_force_n,
            "bass_foot_n": found.load.bass_foot_n,
            "treble_foot_n": found.load.treble_foot_n,
            "along_string_n": found.load.along_string_n,
        },
        "nut": {"groove_lateral_mm": list(found.groove_lateral_mm)},
    }


def _warnings(slip: Slip, taken: Taken, found: Setup) -> list[Note]:
    notes = list(taken.notes)
    card = taken.card
    look = Filler(slip, card.family)
    n = len(card.strings)
    for field, values in (
        ("end.clearance_mm", found.clearance_mm),
        ("nut.clearance_mm", found.nut_clearance_mm),
    ):
        for i, value in enumerate(values):
            if value <= 0:
                raise Refusal(
                    "setup.string_in_board", field=field, name=card.strings[i].name, value=round(value, 3)
                )
            look.look(field, value, i / (n - 1), f"{field} {card.strings[i].name}")
    notes += look.notes
    given = card.board_slope_deg
    if given is not None and abs(given - found.slope_worked_out_deg) > SLOPES_DISAGREE:
        notes.append(
            Note(
                "setup.slopes_disagree", {"given": given, "worked_out": round(found.slope_worked_out_deg, 2)}
            )
        )
    if card.tension_state == "slack":
        notes.append(Note("setup.slack_loads"))
    margins = [s.edge_margin_end_mm for s in found.strings if s.edge_margin_end_mm is not None]
    if margins and min(margins) < 0:
        notes.append(Note("setup.string_over_edge", {"value": round(min(margins), 2)}))
    return notes


def status_of(taken: Taken) -> Status:
    """``estimate`` where a default of the tables stands in for a reading that moves a result."""
    moving = [
        d
        for d in taken.defaults
        if not d.field.endswith(".spacing") and not any(q in d.field for q in QUIET_DEFAULTS)
    ]
    return "estimate" if moving else "ok"


def reckon_card(slip: Slip) -> Reckoned:
    """The set-up of one card (pass ``slip.wished()`` for the wished one).

    Raises
    ------
    Refusal
        As ``card_from_slip`` and ``craft.setup.setup``; a string that would lie in the board.
    """
    taken = card_from_slip(slip)
    found = setup(taken.card)
    sources = ["geometry", "statics", "gauge"]
    if any(row.has("density_g_per_m") for row in slip.rows("strings")):
        sources.append("taylor")
    sources += sorted({d.source for d in taken.defaults} - set(sources))
    answer = Answer(
        results=results(found),
        status=status_of(taken),
        warnings=tuple(_warnings(slip, taken, found)),
        inputs=dict(readings_given(slip)),
        defaults=taken.defaults,
        sources=tuple(sources),
    )
    return Reckoned(taken, found, answer)


def reckon(slip: Slip, wished: bool = False) -> Reckoned:
    """The set-up as found, or as wished.

    Raises
    ------
    Refusal
        Also a wished tension state other than the card's: a card holds one state.
    """
    if not wished:
        return reckon_card(slip)
    check_one_state(slip)
    return reckon_card(slip.wished())


def check_one_state(slip: Slip) -> None:
    """Refuse a wish in another tension state than the card."""
    wish = slip.tables.get("wish", {}).get("state", {}).get("tension")
    card = slip.tables.get("state", {}).get("tension")
    if wish is not None and card is not None and wish != card:
        raise Refusal("setup.mixed_states", found=str(card)[:20], wished=str(wish)[:20])
    check_wish(slip)


def check_wish(slip: Slip) -> None:
    """Refuse a wish of another instrument, of a datum without its figures, or of some strings only."""
    wish = slip.tables.get("wish", {})
    family, wished = slip.tables.get("body", {}).get("family"), wish.get("body", {}).get("family")
    if wished is not None and wished != family:
        raise Refusal("setup.wish_family", found=str(family)[:20], wished=str(wished)[:20])
    for table in ("nut", "end"):
        keys = set(wish.get(table, {}))
        if keys & {"datum", "direction"} and "clearance_mm" not in keys:
            raise Refusal("setup.wish_datum_alone", table=table)
    rows = wish.get("strings")
    if rows is not None:
        n = len(slip.tables.get("strings", [])) or 4
        if len(rows) != n:
            raise Refusal("setup.wish_strings", value=len(rows), limit=n)


def card_of(slip: Slip) -> Card:
    """The card alone, for reckonings that stand on the set-up."""
    return card_from_slip(slip).card
