"""Slip -> answer: what the bridge weighs, how it balances and vibrates, what cuts do, how it leans."""

from dataclasses import dataclass
from typing import Any

from purfling.craft.bridge.cuts import CutEffect, Progress, Weights
from purfling.craft.bridge.lumped import effective_mass, taps_mean
from purfling.craft.bridge.question import BridgeAnswer, goes_to_straighten, scale_of
from purfling.craft.bridge.wood import bridge_table
from purfling.craft.result import Answer, Note, Status
from purfling.reckonings.bridge.cache import answer_of
from purfling.slips.bridge import BridgeSlip, bridge_of
from purfling.slips.reader import Slip

SOURCES = ("own_drawing", "woodhandbook", "plane_stress", "bridge_modes", "column", "timber_creep")
DENSITY = (480.0, 900.0)  # kg/m3: maple outside it is doubted
SCALE = (0.4, 1.6)


@dataclass(frozen=True)
class BridgeCase:
    """The question with its slip, what was found, and the answer of the envelope."""

    asked: BridgeSlip
    found: BridgeAnswer
    answer: Answer


def compute(slip: Slip, progress: Progress | None = None) -> BridgeCase:
    """Compute the bridge of a slip.

    Raises
    ------
    Refusal
        Whatever ``bridge_of`` and the computation refuse.
    """
    asked = bridge_of(slip)
    found = answer_of(asked.question, progress)
    scale = scale_of(found, asked.question.measured.rocking_hz)
    notes = _notes(asked, found, scale)
    falls = found.lean.stress_free_mpa is None
    status: Status = "outside_validity" if falls else ("estimate" if scale is None else "ok")
    measured = asked.question.measured
    sources = SOURCES + (("added_mass",) if measured.loaded_hz else ())
    answer = Answer(
        _results(asked, found, scale), status, tuple(notes), asked.inputs, asked.defaults, sources
    )
    return BridgeCase(asked, found, answer)


def _balance(masses: Weights) -> dict[str, Any]:
    whole, above, below = masses
    return {
        "mass_g": whole.mass_g,
        "centre_of_mass_mm": list(whole.centre_mm),
        "mass_above_waist_g": above.mass_g if above else None,
        "mass_below_waist_g": below.mass_g if below else None,
    }


def _cut(one: CutEffect) -> dict[str, Any]:
    return {
        "name": one.name,
        "place": one.place,
        "amount_mm": one.amount_mm,
        "rocking_percent": one.rocking_percent,
        "bouncing_percent": one.bouncing_percent,
        "mass_mg": one.mass_mg,
        "after": _balance((one.after, one.above, one.below)),
        "method": one.method,
    }


def _lean(asked: BridgeSlip, found: BridgeAnswer) -> dict[str, Any]:
    lean = found.lean
    step = float(bridge_table()["lean"]["every"]["step_mm"])
    travel, goes = goes_to_straighten(asked.question.rings, lean.back_deg, step)
    return {
        "stress_mpa": lean.stress_free_mpa,
        "stress_held_mpa": lean.stress_held_mpa,
        "reserve_held": lean.reserve_held,
        "reserve_free": lean.reserve_free,
        "verdict": lean.verdict,
        "back_deg": lean.back_deg,
        "centre_deg": lean.centre_deg,
        "critical_held_n": lean.critical_held_n,
        "critical_free_n": lean.critical_free_n,
        "straighten_mm": travel,
        "goes": goes,
    }


def _measured(asked: BridgeSlip, found: BridgeAnswer, scale: float | None) -> dict[str, Any] | None:
    taps = asked.question.measured
    if taps.rocking_hz is None:
        return None
    mass = None
    if taps.loaded_hz is not None and taps.added_mass_mg is not None:
        mass = effective_mass(taps.rocking_hz, taps.loaded_hz, taps.added_mass_mg)
    return {
        "rocking_hz": taps.rocking_hz,
        "rocking_error_hz": taps_mean(taps.taps_hz)[1] if taps.taps_hz else None,
        "top_mass_g": mass,
        "computed_top_mass_g": found.top_mass_g,
        "bouncing_hz": taps.bouncing_hz,
        "bouncing_scaled_hz": _scaled(found, "bouncing", scale),
    }


def _scaled(found: BridgeAnswer, kind: str, scale: float | None) -> float | None:
    if scale is None or kind not in found.modes.kinds:
        return None
    return scale * float(found.modes.hz[found.modes.kinds.index(kind)])


def _results(asked: BridgeSlip, found: BridgeAnswer, scale: float | None) -> dict[str, Any]:
    modes = found.modes
    return {
        **_balance(found.masses),
        "volume_mm3": found.masses[0].volume_mm3,
        "density_kg_m3": asked.question.wood.density_kg_m3,
        "waist_height_mm": found.waist.height_mm if found.waist else None,
        "modes": [
            {
                "kind": kind,
                "hz": float(modes.hz[k]),
                "participation": modes.participation(k),
                "scaled_hz": None if scale is None else scale * float(modes.hz[k]),
            }
            for k, kind in enumerate(modes.kinds)
        ],
        "scale": scale,
        "dof": len(found.plate.free),
        "cuts": [_cut(one) for one in found.effects],
        "lean": _lean(asked, found),
        "measured": _measured(asked, found, scale),
    }


def _notes(asked: BridgeSlip, found: BridgeAnswer, scale: float | None) -> list[Note]:
    q = asked.question
    notes: list[Note] = []
    if scale is None:
        notes.append(Note("bridge.absolute_hz"))
    else:
        notes.append(Note("bridge.scaled_by_one", {"scale": round(float(scale), 3)}))
        if not SCALE[0] <= scale <= SCALE[1]:
            notes.append(
                Note("bridge.far_scale", {"scale": round(float(scale), 2), "low": SCALE[0], "high": SCALE[1]})
            )
    for kind in ("rocking", "bouncing"):
        if kind not in found.modes.kinds:
            notes.append(Note(f"bridge.no_{kind}"))
    notes += [Note("bridge.cut_absent", {"name": cut.name}) for cut in found.absent]
    density = q.wood.density_kg_m3
    if not DENSITY[0] <= density <= DENSITY[1]:
        notes.append(
            Note("bridge.density_odd", {"value": round(density), "low": DENSITY[0], "high": DENSITY[1]})
        )
    weighed, mass = q.measured.weighed_g, found.masses[0].mass_g
    if weighed is not None and abs(mass - weighed) > 0.02 * weighed:
        notes.append(
            Note(
                "bridge.density_and_weighing",
                {"computed": round(float(mass), 2), "weighed": round(float(weighed), 2)},
            )
        )
    if found.lean.stress_free_mpa is None:
        long_load = q.load.load_n * (1 + q.load.creep)
        notes.append(
            Note("bridge.free_falls", {"load": round(long_load), "limit": round(found.lean.critical_free_n)})
        )
    return notes
