"""Margins in words: the least of each string, some stops, the nut."""

import numpy as np

from purfling.reckonings.margins.compute import MarginsCase
from purfling.words import decimal, say
from purfling.words.columns import columns, tail

SHOWN = (0, 1, 2, 5, 7, 12, 19)


def _names(semitone: int, language: str) -> str:
    return say("arithmetic.open", language) if semitone == 0 else str(semitone)


def plain(case: MarginsCase, language: str = "en") -> str:
    """What ``purfling margins`` prints without --json."""

    def d(value: float, n: int = 2) -> str:
        return decimal(value, n, language)

    def s(code: str, **params: object) -> str:
        return say(f"arithmetic.{code}", language, **params)

    head = [
        s(c) for c in ("h_string", "h_stop", "h_bowed", "h_at", "h_plucked", "h_at", "h_finger", "h_cents")
    ]
    rows: list[list[str]] = []
    for row in case.answer.results["margins"]:
        if row["stop_semitone"] not in SHOWN:
            continue
        force, sharp = row["finger_force_n"], row["press_cents"]
        rows.append(
            [
                row["string"],
                _names(row["stop_semitone"], language),
                d(row["bowed_ratio"]),
                d(row["bowed_at_mm"], 0),
                d(row["plucked_ratio"]),
                d(row["plucked_at_mm"], 0),
                "-" if force is None else d(force),
                "-" if sharp is None else d(sharp, 1),
            ]
        )
    lines = [s("margins_head"), "", *columns(head, rows), ""]
    for one in case.strings:
        for word, margin in (("bowed", one.bowed), ("plucked", one.plucked)):
            least = int(np.argmin(margin.ratio))
            lines.append(
                s(
                    f"least_{word}",
                    string=one.course.name,
                    ratio=d(float(margin.ratio[least])),
                    stop=_names(least, language),
                    at=d(float(margin.at_mm[least]), 0),
                )
            )
    return "\n".join([*lines, "", *nut_lines(case, language), "", *tail(case.answer, language)])


def nut_lines(case: MarginsCase, language: str = "en") -> list[str]:
    """What the nut may do under each string, bowed and plucked."""
    nut = case.answer.results["nut"]
    found = case.reckoned.setup
    lines = []
    for i, name in enumerate(s.name for s in found.strings):
        now = found.nut_clearance_mm[i]
        bowed, plucked = nut["bowed_clearance_mm"][i], nut["plucked_clearance_mm"][i]
        code = "nut_may_go_down"
        if bowed > now:
            code = "nut_must_go_up"
        elif plucked > now:
            code = "nut_plucked_up"
        lines.append(
            say(
                f"arithmetic.{code}",
                language,
                string=name,
                by=decimal(abs(now - nut["lowest_clearance_mm"][i]), 2, language),
                lowest=decimal(nut["lowest_clearance_mm"][i], 2, language),
                bowed=decimal(bowed, 2, language),
                pluck=decimal(case.swing.pluck_mm, 1, language),
                reserve=decimal(nut["reserve_mm"], 2, language),
            )
        )
    return [*lines, say("arithmetic.nut_open_only", language)]
