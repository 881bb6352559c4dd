"""The hair of a slip: count, mass, tied length, season, the frog's room, and how old it is."""

from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Any, cast

from purfling.craft.bow.hair import (
    HAIRS_PER_MM,
    STRAIN_HIGH,
    STRAIN_LOW,
    Season,
    Tied,
    hair_count,
    hair_mass_g,
    season,
    whole_strain,
    wished_eye_place,
)
from purfling.craft.bow.survey import bow_default
from purfling.craft.refusals import Refusal
from purfling.craft.result import Default, Note, Status
from purfling.slips.reader import Slip
from purfling.slips.view import View

HOURS_TO_REHAIR = 120.0
COMMON_COUNT = 170.0


@dataclass
class Hairs:
    """The ``hair`` of the answer, with the ribbon's mass and length for the balance."""

    results: dict[str, Any]
    mass_g: float
    length_mm: float
    notes: list[Note] = field(default_factory=list)
    defaults: list[Default] = field(default_factory=list)
    sources: list[str] = field(default_factory=list)
    status: Status = "ok"


def _taken(view: View, key: str, name: str, unit: str, done: Hairs) -> float:
    given = view.number(key)
    if given is not None:
        return given
    value = bow_default(name)
    done.defaults.append(Default(view.path(key), value, unit, "memory"))
    return value


def _amount(view: View, length: float, done: Hairs) -> None:
    """Count and mass: whichever is given leads; else the ribbon's width does."""
    diameter = _taken(view, "diameter_mm", "hair_diameter_mm", "mm", done)
    count, mass, width = view.number("count"), view.number("hair_mass_g"), view.number("width_mm")
    if count is None and mass is not None:
        count = hair_count(mass, diameter, length)
    elif count is None and width is not None:
        count = HAIRS_PER_MM * width
        done.sources.append("hair_counts")
    elif count is None:
        count = COMMON_COUNT
        done.defaults.append(Default(view.path("count"), count, "", "hair_counts"))
    done.mass_g = hair_mass_g(count, diameter, length) if mass is None else mass
    done.results["count"] = round(count)
    done.results["mass_g"] = done.mass_g


def _rooms(view: View, year: Season, done: Hairs) -> None:
    """The frog's travel against the swing, in both directions."""
    travel, eye, slot = (view.number(k) for k in ("frog_travel_mm", "eye_place_mm", "slot_mm"))
    done.results["frog_travel_needed_mm"] = year.swing_mm
    done.results["forward_needed_mm"] = year.shorter_mm
    done.results["back_needed_mm"] = year.longer_mm
    if travel is not None and travel < year.swing_mm:
        done.notes.append(Note("bow.travel_short", {"value": travel, "limit": year.swing_mm}))
    if eye is not None and eye < year.shorter_mm:
        done.notes.append(Note("bow.cannot_slacken", {"value": eye, "limit": year.shorter_mm}))
    if slot is None:
        return
    playing = travel or 0.0
    needed = year.swing_mm + playing
    done.results["eye_place_wished_mm"] = wished_eye_place(slot, year.shorter_mm, year.longer_mm, playing)
    if eye is not None:
        back = slot - eye
        done.results["forward_mm"], done.results["back_mm"] = eye, back
        if back < year.longer_mm + playing:
            done.notes.append(Note("bow.cannot_tighten", {"value": back, "limit": year.longer_mm + playing}))
    if slot < needed:
        done.notes.append(Note("bow.slot_short", {"value": slot, "limit": needed}))


def _day(view: View, key: str) -> date | None:
    raw = view.data.get(key)
    if raw is None:
        return None
    if isinstance(raw, datetime):
        return raw.date()
    if isinstance(raw, date):
        return raw
    try:
        return date.fromisoformat(str(raw))
    except ValueError as wrong:
        raise Refusal("bow.bad_day", field=view.path(key), value=str(raw)[:40]) from wrong


def _age(view: View, done: Hairs) -> None:
    """Days and playing hours since the last hair; no clock: the day of the reading stands in the slip."""
    tied_on, read_on = _day(view, "hair_date"), _day(view, "read_on")
    hours = view.number("hours_per_week")
    if tied_on is None or read_on is None:
        return
    days = (read_on - tied_on).days
    if days < 0:
        raise Refusal("bow.hair_from_tomorrow", first=str(tied_on), second=str(read_on))
    age: dict[str, Any] = {"days": days}
    if hours is not None:
        played = hours * days / 7.0
        age |= {"played_hours": played, "hours_to_rehair": HOURS_TO_REHAIR}
        done.sources.append("hair_hours")
        if played > HOURS_TO_REHAIR:
            done.notes.append(Note("bow.hair_old", {"value": played, "limit": HOURS_TO_REHAIR}))
    done.results["age"] = age


def hairs_of(slip: Slip) -> Hairs | None:
    """The ``hair`` of the answer, or None where the slip has no [hair].

    Raises
    ------
    Refusal
        Without tied (wet or dry), length, or the room's humidity.
    """
    if not slip.has("hair"):
        return None
    view = slip.table("hair")
    tied = cast(Tied, view.need_choice("tied"))
    length = view.need_number("length_mm")
    now = view.need_number("humidity_percent")
    done = Hairs({}, 0.0, length, sources=["hair_hygrometer", "gay_lussac"])
    _amount(view, length, done)
    dry = _taken(view, "driest_percent", "driest_percent", "%", done)
    damp = _taken(view, "dampest_percent", "dampest_percent", "%", done)
    if dry > damp:
        raise Refusal("bow.dry_over_damp", first=f"{dry:g}", second=f"{damp:g}")
    own = view.number("coefficient")
    if own is None:
        strain = (STRAIN_LOW + STRAIN_HIGH) / 2.0
        done.defaults.append(Default(view.path("coefficient"), strain, "1", "hair_hygrometer"))
        done.status = "estimate"
        done.notes.append(Note("bow.human_hair"))
        ends = (STRAIN_LOW, STRAIN_HIGH)
    else:
        strain = whole_strain(own)
        ends = (strain, strain)
    low, year, high = (season(length, tied, now, dry, damp, s) for s in (ends[0], strain, ends[1]))
    done.results |= {
        "tie_length_mm": year.tie_length_mm,
        "shrink_mm": year.shrink_mm,
        "shrink_range_mm": [low.shrink_mm, high.shrink_mm],
        "swing_range_mm": [low.swing_mm, high.swing_mm],
        "strain_dry_to_wet": strain,
    }
    if not dry <= now <= damp:
        done.notes.append(Note("bow.room_outside_season", {"value": now, "low": dry, "high": damp}))
    _rooms(view, year, done)
    _age(view, done)
    return done
