"""The set-up in words: the plain table of the command line."""

from purfling.reckonings.setup.compute import Reckoned
from purfling.words import decimal, say
from purfling.words.columns import columns, tail


def table(reckoned: Reckoned, language: str = "en") -> str:
    """Plain text: strings, bridge, loads, then status, warnings and defaults."""

    def d(value: float | None, n: int = 2) -> str:
        return "-" if value is None else decimal(value, n, language)

    def s(reason: str) -> str:
        return say("setup." + reason, language)

    found = reckoned.setup
    head = [
        s("head_string"),
        s("head_lateral"),
        s("head_notch"),
        "+-",
        s("head_crown"),
        s("head_over_line"),
        s("head_break"),
        s("head_tension"),
        s("head_down"),
        s("head_margin"),
    ]
    rows = [
        [
            p.name,
            d(p.lateral_mm),
            d(p.notch_height_mm),
            d(p.notch_height_error_mm),
            d(p.crown_height_mm),
            d(p.over_board_line_mm),
            d(p.break_angle_deg, 1),
            d(p.tension_n, 1),
            d(p.down_force_n, 1),
            d(p.edge_margin_end_mm, 1),
        ]
        for p in found.strings
    ]
    lines = columns(head, rows) + _under(reckoned, language)
    return "\n".join(lines + tail(reckoned.answer, language)) + "\n"


def _under(reckoned: Reckoned, language: str) -> list[str]:
    """The lines under the table of strings: bridge, slope, loads, nut."""

    def d(value: float, n: int = 2) -> str:
        return decimal(value, n, language)

    found = reckoned.setup
    load = found.load
    return [
        "",
        say(
            "setup.line_bridge",
            language,
            centre=d(found.centre_height_mm),
            radius=d(found.notch_curve.radius_mm, 1),
            crown=d(found.crown_centre_height_mm),
            crown_radius=d(found.crown_curve.radius_mm, 1),
        ),
        say("setup.line_slope", language, slope=d(found.board_slope_deg)),
        say(
            "setup.line_load",
            language,
            total=d(load.total_tension_n, 1),
            down=d(load.total_down_force_n, 1),
            bass=d(load.bass_foot_n, 1),
            treble=d(load.treble_foot_n, 1),
            along=d(load.along_string_n, 2),
        ),
        say("setup.line_nut", language, places="  ".join(d(v) for v in found.groove_lateral_mm)),
        "",
    ]
