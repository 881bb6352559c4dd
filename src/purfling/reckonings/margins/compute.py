"""Slip -> margins of every string, open and at every semitone to the octave and a fifth."""

from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from purfling.craft.geometry import Array
from purfling.craft.refusals import Refusal
from purfling.craft.result import Answer, Default, Note, gravest
from purfling.craft.stopping import finger_force_n, press_cents
from purfling.craft.swing import (
    Course,
    Margin,
    Scoop,
    Swing,
    courses,
    margins,
    nut_floor_mm,
    pluck_place_mm,
    room_mm,
    square,
    stop_place_mm,
)
from purfling.reckonings.setup.compute import Reckoned, reckon_card
from purfling.slips.reader import Slip

SEMITONES = 19  # an octave and a fifth
OPEN = Swing()
DEFAULTS = (
    ("bow_speed_m_s", OPEN.bow_speed_m_s, "m/s"),
    ("bow_from_bridge_mm", OPEN.bow_from_bridge_mm, "mm"),
    ("bow_angle_deg", OPEN.bow_angle_deg, "deg"),
    ("pluck_mm", OPEN.pluck_mm, "mm"),
)
RESERVE = 0.15  # mm over the least nut clearance, for wear and reading: shop's own, no source


@dataclass(frozen=True)
class StringMargins:
    """One string: its course, stops and margins, bowed and plucked."""

    course: Course
    stop_mm: Array
    bowed: Margin
    plucked: Margin


@dataclass(frozen=True)
class MarginsCase:
    """The margins of a card with what its picture needs."""

    reckoned: Reckoned
    swing: Swing
    strings: tuple[StringMargins, ...]
    lowest_clearance_mm: tuple[float, ...]
    answer: Answer


def swing_of(slip: Slip) -> tuple[Swing, float, list[Default]]:
    """How the strings are played, the nut's reserve [mm], and what the tables gave."""
    view = slip.table("swing")
    taken: dict[str, float] = {}
    defaults: list[Default] = []
    for key, value, unit in DEFAULTS:
        given = view.number(key)
        taken[key] = value if given is None else given
        if given is None:
            defaults.append(Default(f"swing.{key}", value, unit, "shop"))
    place = view.number("pluck_from_bridge_mm")
    if place is None:
        defaults.append(Default("swing.pluck_from_bridge_mm", "L/4", "", "shop"))
    reserve = view.number("reserve_mm")
    if reserve is None:
        reserve = RESERVE
        defaults.append(Default("swing.reserve_mm", RESERVE, "mm", "shop"))
    return Swing(pluck_from_bridge_mm=place, **taken), reserve, defaults


def scoops_of(slip: Slip, reckoned: Reckoned) -> list[Scoop]:
    """The scoop under each string: measured where a [[profile]] names it, else the parabola.

    Raises
    ------
    Refusal
        A profile that names no string of the card, or one string twice.
    """
    card = reckoned.taken.card
    n = len(card.strings)
    low, high = reckoned.taken.scoop_mm
    measured: dict[str, Scoop] = {}
    names = [s.name for s in card.strings]
    for row in slip.rows("profile"):
        name = row.need_text("string")
        if name not in names or name in measured:
            raise Refusal("arithmetic.profile_string", value=name[:40], choices=", ".join(names))
        stations, depths = row.need_numbers("station_mm"), row.need_numbers("depth_mm")
        measured[name] = Scoop(card.board_length_mm, 0.0, tuple(stations), tuple(depths))
    return [
        measured.get(name) or Scoop(card.board_length_mm, low + (high - low) * i / (n - 1))
        for i, name in enumerate(names)
    ]


def _rows(one: StringMargins, tension_n: float, stiffness_n: float | None) -> list[dict[str, Any]]:
    course = one.course
    stops = one.stop_mm
    press = np.where(stops > 0, room_mm(course, 0.0, stops) / square(course, stops), 0.0)
    held = np.where(stops > 0, stops, 1.0)
    force = finger_force_n(tension_n, course.string_length_mm, held, press)
    length = course.string_length_mm
    sharp = None if stiffness_n is None else press_cents(tension_n, stiffness_n, length, length, held, press)
    rows: list[dict[str, Any]] = []
    for i in range(len(stops)):
        rows.append(
            {
                "string": course.name,
                "stop_semitone": i,
                "bowed_ratio": float(one.bowed.ratio[i]),
                "bowed_mm": float(one.bowed.spare_mm[i]),
                "bowed_at_mm": float(one.bowed.at_mm[i]),
                "plucked_ratio": float(one.plucked.ratio[i]),
                "plucked_mm": float(one.plucked.spare_mm[i]),
                "plucked_at_mm": float(one.plucked.at_mm[i]),
                "finger_force_n": float(force[i]) if i else None,
                "press_cents": float(sharp[i]) if sharp is not None and i else None,
            }
        )
    return rows


def _stops(course: Course) -> Array:
    stops = stop_place_mm(course.string_length_mm, np.arange(SEMITONES + 1.0))
    return np.asarray(stops[stops < course.board_length_mm])


def _notes(case: tuple[StringMargins, ...], swing: Swing, sharp: bool) -> list[Note]:
    notes: list[Note] = []
    for one in case:
        for word, margin in (("bowed", one.bowed), ("plucked", one.plucked)):
            least = int(np.argmin(margin.ratio))
            if margin.ratio[least] < 1.0:
                notes.append(
                    Note(
                        f"arithmetic.rattles_{word}",
                        {
                            "string": one.course.name,
                            "semitone": least,
                            "ratio": round(float(margin.ratio[least]), 2),
                            "at": round(float(margin.at_mm[least]), 1),
                        },
                    )
                )
    first = case[0]
    if len(first.stop_mm) <= SEMITONES:
        notes.append(Note("arithmetic.short_board", {"semitone": len(first.stop_mm) - 1}))
    place = swing.pluck_from_bridge_mm
    if place is not None and place > float(pluck_place_mm(swing, first.course, first.stop_mm[-1])):
        notes.append(Note("arithmetic.pluck_limited", {"value": place}))
    if not sharp:
        notes.append(Note("arithmetic.no_stiffness"))
    return notes


def compute(slip: Slip) -> MarginsCase:
    """Reckon the margins of a slip's card.

    Raises
    ------
    Refusal
        As the set-up; a profile of no string or no order; a swing of nothing.
    """
    reckoned = reckon_card(slip)
    card, found = reckoned.taken.card, reckoned.setup
    swing, reserve, defaults = swing_of(slip)
    strings = []
    lowest, both = [], []
    for course, end in zip(
        courses(card, found, reckoned.taken.pitch_hz, scoops_of(slip, reckoned)),
        found.clearance_mm,
        strict=True,
    ):
        stops = _stops(course)
        strings.append(StringMargins(course, stops, *margins(course, swing, stops)))
        both.append(nut_floor_mm(course, swing, end))
        lowest.append(max(both[-1]) + reserve)
    given = [row.number("axial_stiffness_n") for row in slip.rows("strings")] or [None] * len(strings)
    rows: list[dict[str, Any]] = []
    for one, string, stiffness in zip(strings, card.strings, given, strict=True):
        rows += _rows(one, string.tension_n, stiffness)
    results = {
        "margins": rows,
        "nut": {
            "lowest_clearance_mm": lowest,
            "cut_mm": [now - least for now, least in zip(found.nut_clearance_mm, lowest, strict=True)],
            "bowed_clearance_mm": [bowed + reserve for bowed, _ in both],
            "plucked_clearance_mm": [plucked + reserve for _, plucked in both],
            "reserve_mm": reserve,
        },
    }
    base = reckoned.answer
    sharp = any(v is not None for v in given)
    answer = replace(
        base,
        results=results,
        status=gravest(base.status, "estimate"),
        warnings=(*base.warnings, *_notes(tuple(strings), swing, sharp)),
        inputs={**base.inputs, **{f"swing.{k}": v for k, v in slip.tables.get("swing", {}).items()}},
        defaults=(*base.defaults, *defaults),
        sources=(*base.sources, "helmholtz", *(("stretch",) if sharp else ())),
    )
    return MarginsCase(reckoned, swing, tuple(strings), tuple(lowest), answer)
