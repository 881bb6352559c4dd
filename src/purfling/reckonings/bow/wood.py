"""The stick of a slip: its shape, mass, stiffness, modulus, and how it stands against the hair's pull."""

from dataclasses import dataclass, field
from typing import Any, cast

import numpy as np

from purfling.craft.bow.beam import buckling_n, deflection_per_n, hair_pull
from purfling.craft.bow.camber import Camber
from purfling.craft.bow.stick import Section, Solid, Stick, ahead_of, law_stick, solid
from purfling.craft.bow.survey import bow_default
from purfling.craft.bow.taper import REACH_MM, law_diameter
from purfling.craft.refusals import Refusal
from purfling.craft.result import Default, Note, Status, gravest
from purfling.slips.reader import Slip
from purfling.slips.view import View

CURVE_SHIFT_MM = 0.5


@dataclass
class Wood:
    """What is known of a stick; ``results`` is the ``stick`` of the answer."""

    stick: Stick
    shape: Solid
    mass_g: float | None
    modulus_gpa: float | None
    results: dict[str, Any]
    notes: list[Note] = field(default_factory=list)
    defaults: list[Default] = field(default_factory=list)
    status: Status = "ok"


def _section(slip: Slip) -> Section:
    return cast(Section, slip.table("stick_wood").choice("section") or "round")


def stick_of(slip: Slip, notes: list[Note], defaults: list[Default]) -> Stick | None:
    """The measured stick, held to its ends; by the law of 1856 where wood but no diameter is given."""
    rows = sorted((r.need_number("at_mm"), r.need_number("diameter_mm")) for r in slip.rows("stick"))
    length = slip.table("bow").number("stick_length_mm")
    section = _section(slip)
    if not rows:
        if not (slip.has("stick_wood") or slip.has("deflection")):
            return None
        end = REACH_MM if length is None else length
        defaults.append(Default("stick: diameter_mm", "law of 1856", "mm", "fetis1856"))
        if length is None:
            defaults.append(Default("bow.stick_length_mm", REACH_MM, "mm", "fetis1856"))
        if end > REACH_MM + 40:
            notes.append(Note("bow.law_beyond", {"value": end, "limit": REACH_MM}))
        return law_stick(min(end, REACH_MM + 40), section)
    if len(rows) < 2:
        raise Refusal("bow.too_few_stations", value=len(rows))
    held = []
    if rows[0][0] > CURVE_SHIFT_MM:
        held.append((0.0, rows[0][1]))
        notes.append(Note("bow.held_to_end", {"from": 0.0, "to": rows[0][0], "diameter": rows[0][1]}))
    if length is not None and length > rows[-1][0] + CURVE_SHIFT_MM:
        held.append((length, rows[-1][1]))
        notes.append(Note("bow.held_to_end", {"from": rows[-1][0], "to": length, "diameter": rows[-1][1]}))
    rows = sorted(rows + held)
    return Stick(tuple(x for x, _ in rows), tuple(d for _, d in rows), section)


def _taper(slip: Slip, notes: list[Note]) -> dict[str, Any]:
    """Measured less law, and measured less earlier, at the stations as they stand in the slip."""
    rows = slip.rows("stick")
    if not rows:
        return {}
    if slip.family in ("viola", "cello"):
        notes.append(Note("bow.law_of_violin", {"family": slip.family}))
    deviation: list[float | None] = []
    earlier: list[float | None] = []
    for row in rows:
        x, d = row.need_number("at_mm"), row.need_number("diameter_mm")
        deviation.append(d - float(law_diameter(np.array([x]))[0]) if x <= REACH_MM + 1 else None)
        before = row.number("earlier_diameter_mm")
        earlier.append(None if before is None else d - before)
    found: dict[str, Any] = {
        "at_mm": [r.need_number("at_mm") for r in rows],
        "taper_deviation_mm": deviation,
    }
    if any(e is not None for e in earlier):
        found["earlier_difference_mm"] = earlier
    return found


def _modulus(slip: Slip, stick: Stick, density: float | None) -> tuple[float | None, dict[str, Any]]:
    """Modulus [GPa] from the deflection test, the sound's speed, or as given; with the rig's figures."""
    wood = slip.table("stick_wood")
    given = wood.number("modulus_gpa")
    speed = wood.number("sound_speed_m_s")
    if slip.has("deflection"):
        test = slip.table("deflection")
        a, b = test.need_numbers("supports_mm", 2)
        load, bent = test.need_number("load_n"), test.need_number("deflection_mm")
        at = test.need_number("load_at_mm")
        if not min(a, b) < at < max(a, b):
            raise Refusal("bow.load_outside", value=at, low=min(a, b), high=max(a, b))
        per_n = deflection_per_n(stick, (a, b), at, 1000.0)
        rig = {"supports_mm": [a, b], "load_at_mm": at, "load_n": load, "deflection_mm": bent}
        return per_n * load / bent, {"stiffness_n_per_mm": load / bent, "rig": rig}
    if given is not None:
        return given, {}
    if speed is not None:
        if density is None:
            raise wood.missing("density_kg_m3")
        return density * speed**2 * 1e-9, {}
    return None, {}


def pull(slip: Slip, wood: Wood, camber: Camber | None) -> dict[str, Any] | None:
    """Hair tension against the stick: an indicator, with its warning near buckling."""
    if wood.modulus_gpa is None:
        return None
    bow, hair = slip.table("bow"), slip.table("hair")
    front = bow.number("frog_length_mm")
    free = wood.stick if front is None else ahead_of(wood.stick, front)

    def taken(view: View, key: str) -> float:
        given = view.number(key)
        if given is not None:
            return given
        value = bow_default(key)
        unit = "N" if key.endswith("_n") else "mm"
        wood.defaults.append(Default(view.path(key), value, unit, "memory"))
        return value

    tension = taken(hair, "tension_n")
    levers = taken(bow, "frog_lever_mm"), taken(bow, "head_lever_mm")
    modulus = wood.modulus_gpa * 1000.0
    limit = buckling_n(free, modulus)
    share = tension / limit
    found: dict[str, Any] = {"tension_n": tension, "buckling_n": limit, "share": share}
    if share >= 1.0:
        wood.notes.append(Note("bow.beyond_buckling", {"value": tension, "limit": limit}))
        return {**found, "straightened_mm": None}
    curve = None
    if camber is not None:
        places = np.linspace(camber.at_mm[0], camber.at_mm[-1], 201)
        curve = (places, camber.depth_at(places))
    moved = hair_pull(free, modulus, tension, levers, curve)
    if share >= bow_default("near_buckling"):
        wood.notes.append(Note("bow.near_buckling", {"value": tension, "limit": limit, "share": 100 * share}))
    return {**found, "straightened_mm": float(np.max(moved.rise_mm))}


def wood_of(slip: Slip) -> Wood | None:
    """The ``stick`` of the answer, or None where the slip tells nothing of it."""
    notes: list[Note] = []
    defaults: list[Default] = []
    stick = stick_of(slip, notes, defaults)
    if stick is None:
        return None
    shape = solid(stick)
    density = slip.table("stick_wood").number("density_kg_m3")
    mass = None if density is None else shape.mass_g(density)
    modulus, test = _modulus(slip, stick, density)
    results: dict[str, Any] = {
        "mass_g": mass,
        "centre_mm": shape.centre_mm,
        "stiffness_n_per_mm": test.get("stiffness_n_per_mm"),
        "modulus_gpa": modulus,
        "taper_deviation_mm": [],
        **_taper(slip, notes),
    }
    if "rig" in test:
        results["rig"] = test["rig"]
    wood = Wood(stick, shape, mass, modulus, results, notes, defaults)
    if stick.law:
        wood.status = gravest(wood.status, "estimate")
    if modulus is not None and not 8.0 <= modulus <= 45.0:
        notes.append(Note("bow.unusual_modulus", {"value": modulus}))
    return wood
