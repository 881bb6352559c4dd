"""Slip -> the bow's room: from the card's notches, or from the six numbers of [curve]."""

import math
from dataclasses import dataclass
from typing import Any

from purfling.craft.bow_room import BowRoom, EdgeRoom, bow_room, edge_room
from purfling.craft.geometry import circle_fit
from purfling.craft.refusals import Refusal
from purfling.craft.result import Answer, Default, Note
from purfling.craft.strings import centres_even
from purfling.craft.swing import Swing
from purfling.reckonings.setup.compute import Reckoned, reckon_card
from purfling.slips.reader import Slip
from purfling.slips.view import View


@dataclass(frozen=True)
class Curve:
    """Strings over the belly at the centre line: names, places, notch bottoms and notch depth [mm]."""

    names: tuple[str, ...]
    lateral_mm: tuple[float, ...]
    height_mm: tuple[float, ...]
    depth_mm: tuple[float, ...]


@dataclass(frozen=True)
class BowRoomCase:
    """The bow's room with what its picture needs; ``kept`` is the player's kept curve."""

    curve: Curve
    kept: Curve | None
    room: BowRoom
    edges: dict[str, EdgeRoom]
    waist: tuple[float, float] | None
    levels_mm: tuple[float, ...]
    answer: Answer


def _curve(view: View, names: tuple[str, ...] | None) -> Curve:
    heights = view.need_numbers("height_mm")
    n = len(heights)
    if n < 3:
        raise Refusal("setup.too_few_strings", value=n)
    if names is not None and len(names) != n:
        raise Refusal("slips.wrong_length", field=view.path("height_mm"), value=n, limit=len(names))
    places = centres_even(view.need_number("spacing_mm"), n)
    shown = names or tuple(str(i) for i in range(1, n + 1))
    return Curve(shown, places, tuple(heights), (view.number("notch_depth_mm") or 0.0,) * n)


def _today(slip: Slip) -> tuple[Curve, Reckoned | None]:
    """The curve of [curve], else the card's notches; and the card where there is one."""
    if not slip.has("curve"):
        reckoned = reckon_card(slip)
        places = reckoned.setup.strings
        return (
            Curve(
                tuple(p.name for p in places),
                tuple(p.lateral_mm for p in places),
                tuple(p.notch_height_mm for p in places),
                tuple(p.crown_height_mm - p.notch_height_mm for p in places),
            ),
            reckoned,
        )
    names = tuple(row.need_text("name") for row in slip.rows("strings")) or None
    return _curve(slip.table("curve"), names), None


def _edges(
    slip: Slip, curve: Curve, room: BowRoom, reckoned: Reckoned | None, defaults: list[Default]
) -> tuple[dict[str, EdgeRoom], tuple[float, float] | None, tuple[float, ...]]:
    """Rooms at both edges, the edge, and the strings' levels over the body plane where the bow goes."""
    if not slip.has("waist"):
        return {}, None, ()
    waist = slip.table("waist")
    half, edge = waist.need_number("half_width_mm"), waist.need_number("edge_height_mm")
    if reckoned is None:
        raise Refusal("arithmetic.waist_needs_card")
    away = slip.table("swing").number("bow_from_bridge_mm")
    if away is None:
        away = Swing().bow_from_bridge_mm
        defaults.append(Default("swing.bow_from_bridge_mm", away, "mm", "shop"))
    arch = reckoned.taken.card.arch_mm
    levels = tuple(
        arch + h - away * math.tan(math.radians(p.nut_angle_deg))
        for h, p in zip(curve.height_mm, reckoned.setup.strings, strict=True)
    )
    bass = edge_room(-curve.lateral_mm[0], levels[0], -room.plane_deg[0], half, edge)
    treble = edge_room(curve.lateral_mm[-1], levels[-1], room.plane_deg[-1], half, edge)
    return {"bass": bass, "treble": treble}, (half, edge), levels


def _kept(kept: Curve, today: Curve) -> dict[str, Any]:
    """The player's kept curve against today's, by notches; heights of today over the kept ones."""
    old = circle_fit(kept.lateral_mm, kept.height_mm)
    new = circle_fit(today.lateral_mm, today.height_mm)
    return {
        "radius_mm": old.radius_mm,
        "radius_change_mm": new.radius_mm - old.radius_mm,
        "centre_height_mm": old.top_at(0.0),
        "height_change_mm": [b - a for a, b in zip(kept.height_mm, today.height_mm, strict=True)],
        "spacing_change_mm": (today.lateral_mm[-1] - today.lateral_mm[0])
        - (kept.lateral_mm[-1] - kept.lateral_mm[0]),
    }


def _results(curve: Curve, room: BowRoom, edges: dict[str, EdgeRoom]) -> dict[str, Any]:
    crown = circle_fit(
        curve.lateral_mm, [h + d for h, d in zip(curve.height_mm, curve.depth_mm, strict=True)]
    )
    names = curve.names
    results: dict[str, Any] = {
        "curve": {
            "notch_radius_mm": room.curve.radius_mm,
            "notch_centre_height_mm": room.curve.top_at(0.0),
            "notch_centre_lateral_mm": room.curve.lateral_mm,
            "crown_radius_mm": crown.radius_mm,
            "crown_centre_height_mm": crown.top_at(0.0),
            "crown_height_mm": [crown.top_at(y) for y in curve.lateral_mm],
        },
        "strings": [{"string": n, "plane_deg": p} for n, p in zip(names, room.plane_deg, strict=True)],
        "steps": [
            {"strings": [names[i], names[i + 1]], "step_deg": step, "chord_deg": chord}
            for i, (step, chord) in enumerate(zip(room.step_deg, room.chord_deg, strict=True))
        ],
        "mean_step_deg": room.mean_step_deg,
        "middle": [
            {"string": names[i], "over_chord_mm": m.over_chord_mm, "tilt_deg": m.tilt_deg}
            for i, m in enumerate(room.middle, 1)
        ],
        "edges": {
            side: {
                "line_deg": e.line_deg,
                "edge_clearance_mm": e.edge_clearance_mm,
                "edge_angle_deg": e.edge_angle_deg,
            }
            for side, e in edges.items()
        }
        or None,
    }
    return results


def _notes(curve: Curve, room: BowRoom, edges: dict[str, EdgeRoom], asked: bool) -> list[Note]:
    notes = [
        Note("arithmetic.middle_under", {"string": curve.names[i], "by": round(-m.over_chord_mm, 2)})
        for i, m in enumerate(room.middle, 1)
        if m.over_chord_mm <= 0
    ]
    notes += [
        Note("arithmetic.bow_touches", {"side": side, "by": round(-e.edge_clearance_mm, 1)})
        for side, e in edges.items()
        if e.edge_clearance_mm <= 0
    ]
    if not asked:
        notes.append(Note("arithmetic.no_waist"))
    return notes


def compute(slip: Slip) -> BowRoomCase:
    """Reckon the bow's room.

    Raises
    ------
    Refusal
        Neither a card nor [curve]; a waist without its two numbers or without a card; a curve that is none.
    """
    curve, reckoned = _today(slip)
    room = bow_room(curve.lateral_mm, curve.height_mm)
    defaults: list[Default] = []
    edges, waist, levels = _edges(slip, curve, room, reckoned, defaults)
    results = _results(curve, room, edges)
    kept = _curve(slip.table("kept_curve"), curve.names) if slip.has("kept_curve") else None
    if kept is not None:
        results["kept"] = _kept(kept, curve)
    base = reckoned.answer if reckoned is not None else Answer({}, inputs={"curve": slip.tables.get("curve")})
    answer = Answer(
        results=results,
        status=base.status,
        warnings=(*base.warnings, *_notes(curve, room, edges, waist is not None)),
        inputs={**base.inputs, **{f"waist.{k}": v for k, v in slip.tables.get("waist", {}).items()}},
        defaults=(*base.defaults, *defaults),
        sources=tuple(dict.fromkeys((*base.sources, "geometry"))),
    )
    return BowRoomCase(curve, kept, room, edges, waist, levels, answer)
