"""Comparison -> the data of the set-up card, and its PDF."""

from typing import Any

from purfling.craft.setup import Setup
from purfling.papers.common import frame, from_answer
from purfling.papers.typeset import typeset
from purfling.reckonings.service.compute import Service
from purfling.reckonings.setup.compare import Comparison, sentence
from purfling.reckonings.setup.pictures import BRIDGE_SCALE, SIDE_SCALE, views
from purfling.words import decimal, say

WORDS = (
    "found",
    "wished",
    "col_found",
    "col_wished",
    "col_change",
    "string",
    "crown",
    "notch",
    "error",
    "clearance",
    "nut",
    "break_angle",
    "down_force",
    "loads",
    "bass_foot",
    "treble_foot",
    "total_down",
    "total_tension",
    "along",
    "centre",
    "radius",
    "slope",
    "defaults",
    "sources",
    "gauges",
    "warnings",
    "side_view",
    "bridge_view",
    "scale",
    "status",
    "sign_date",
    "sign_name",
)


def signed(value: float, decimals: int, language: str) -> str:
    """A number with its sign, "0.0" without one."""
    text = decimal(value, decimals, language)
    return text if text.startswith("-") or float(f"{value:.{decimals}f}") == 0 else "+" + text


def _rows(c: Comparison, language: str) -> list[dict[str, str]]:
    f, w = c.found.setup, c.wished.setup

    def d(value: float, n: int) -> str:
        return decimal(value, n, language)

    rows: list[dict[str, str]] = []
    for i, (a, b) in enumerate(zip(f.strings, w.strings, strict=True)):
        rows.append(
            {
                "name": a.name,
                "crown_found": d(a.crown_height_mm, 1),
                "crown_wished": d(b.crown_height_mm, 1),
                "crown_change": signed(c.crown_change_mm[i], 1, language),
                "notch_found": d(a.notch_height_mm, 1),
                "notch_wished": d(b.notch_height_mm, 1),
                "error": d(b.notch_height_error_mm, 2),
                "clear_found": d(f.clearance_mm[i], 1),
                "clear_wished": d(w.clearance_mm[i], 1),
                "clear_change": signed(w.clearance_mm[i] - f.clearance_mm[i], 1, language),
                "nut_found": d(f.nut_clearance_mm[i], 2),
                "nut_wished": d(w.nut_clearance_mm[i], 2),
                "nut_change": signed(w.nut_clearance_mm[i] - f.nut_clearance_mm[i], 2, language),
                "break_found": d(a.break_angle_deg, 1),
                "break_wished": d(b.break_angle_deg, 1),
                "down_found": d(a.down_force_n, 1),
                "down_wished": d(b.down_force_n, 1),
            }
        )
    return rows


def _pairs(c: Comparison, language: str) -> list[list[str]]:
    """Label, found, wished, difference of the whole-bridge figures."""

    def figures(s: Setup) -> list[tuple[str, float, int]]:
        return [
            ("centre", s.crown_centre_height_mm, 1),
            ("radius", s.crown_curve.radius_mm, 1),
            ("slope", s.board_slope_deg, 2),
            ("total_tension", s.load.total_tension_n, 0),
            ("total_down", s.load.total_down_force_n, 1),
            ("bass_foot", s.load.bass_foot_n, 1),
            ("treble_foot", s.load.treble_foot_n, 1),
            ("along", s.load.along_string_n, 1),
        ]

    rows = []
    for (key, a, n), (_, b, _) in zip(figures(c.found.setup), figures(c.wished.setup), strict=True):
        label = say(f"papers.{key}", language)
        rows.append([label, decimal(a, n, language), decimal(b, n, language), signed(b - a, n, language)])
    return rows


def setup_card(service: Service, language: str = "en") -> bytes:
    """PDF of the set-up card (A4)."""
    c = service.comparison
    card = c.wished.taken.card
    drawings = views(c.found, c.wished if c.causes else None, language)
    subject = " · ".join(p for p in (service.tag, service.label) if p)
    gauge = card.gauge
    errors = [
        ("projection", gauge.projection_mm),
        ("clearance", gauge.clearance_end_mm),
        ("nut", gauge.clearance_nut_mm),
        ("length", gauge.length_mm),
        ("radius", gauge.radius_mm),
        ("spacing", gauge.spacing_mm),
    ]
    said = ", ".join(
        f"{say('papers.gauge_' + name, language)} {decimal(value, 2, language)}" for name, value in errors
    )
    data: dict[str, Any] = {
        **frame(say("papers.setup_card", language), subject, language, WORDS),
        "subject": subject,
        "first_name": service.first_name or "",
        "sentence": sentence(c, language),
        "state": say(f"papers.state_{card.tension_state}", language),
        "clearances": say(
            "papers.clearance_line",
            language,
            datum=say(f"papers.datum_{card.end_datum}", language),
            direction=say(f"papers.direction_{card.end_direction}", language),
            nut=say(f"papers.datum_{card.nut_datum}", language),
        ),
        "rows": _rows(c, language),
        "pairs": _pairs(c, language),
        "gauges": say("papers.gauge_line", language, errors=said),
        "bridge_scale": f"{BRIDGE_SCALE[card.family]:g} : 1",
        "side_scale": f"1 : {1 / SIDE_SCALE[card.family]:.3g}",
        **from_answer(service.answer, language),
    }
    return typeset("setup_card", data, drawings)
