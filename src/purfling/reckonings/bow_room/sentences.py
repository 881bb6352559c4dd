"""The bow's room in words."""

from purfling.reckonings.bow_room.compute import BowRoomCase
from purfling.reckonings.change.sentences import signed
from purfling.words import decimal, say
from purfling.words.columns import columns, tail


def sentences(case: BowRoomCase, language: str = "en") -> list[str]:
    """Curve, middle strings, edges, the kept curve."""

    def d(value: float, n: int = 2) -> str:
        return decimal(value, n, language)

    r = case.answer.results
    curve = r["curve"]
    lines = [
        say(
            "arithmetic.room_curve",
            language,
            radius=d(curve["notch_radius_mm"], 1),
            centre=d(curve["notch_centre_height_mm"]),
            crown=d(curve["crown_radius_mm"], 1),
            crown_centre=d(curve["crown_centre_height_mm"]),
            step=d(r["mean_step_deg"], 1),
        )
    ]
    for m in r["middle"]:
        lines.append(
            say(
                "arithmetic.room_middle",
                language,
                string=m["string"],
                over=d(m["over_chord_mm"]),
                tilt=d(m["tilt_deg"], 1),
            )
        )
    for side, edge in (r["edges"] or {}).items():
        code = "edge_free" if edge["edge_clearance_mm"] > 0 else "edge_touches"
        lines.append(
            say(
                f"arithmetic.{code}",
                language,
                side=say(f"arithmetic.side_{side}", language),
                by=d(abs(edge["edge_clearance_mm"]), 1),
                angle=d(abs(edge["edge_angle_deg"]), 1),
                line=d(edge["line_deg"], 1),
            )
        )
    if "kept" in r:
        kept = r["kept"]
        change = kept["radius_change_mm"]
        code = "kept_same" if abs(change) < 0.05 else "kept_flatter" if change > 0 else "kept_rounder"
        lines.append(
            say(
                f"arithmetic.{code}",
                language,
                by=d(abs(change), 1),
                radius=d(kept["radius_mm"], 1),
                heights="  ".join(signed(v, 2, language) for v in kept["height_change_mm"]),
            )
        )
    return lines


def plain(case: BowRoomCase, language: str = "en") -> str:
    """What ``purfling bow-room`` prints without --json."""
    r = case.answer.results
    head = [say(f"arithmetic.h_{h}", language) for h in ("string", "lateral", "notch", "plane")]
    rows = [
        [name, decimal(y, 2, language), decimal(h, 2, language), decimal(p, 1, language)]
        for name, y, h, p in zip(
            case.curve.names, case.curve.lateral_mm, case.curve.height_mm, case.room.plane_deg, strict=True
        )
    ]
    pair = [say(f"arithmetic.h_{h}", language) for h in ("pair", "step", "chord")]
    steps = [
        ["-".join(s["strings"]), decimal(s["step_deg"], 1, language), decimal(s["chord_deg"], 1, language)]
        for s in r["steps"]
    ]
    lines = [*columns(head, rows), "", *columns(pair, steps), "", *sentences(case, language)]
    return "\n".join([*lines, "", *tail(case.answer, language)])
