"""The lapping in words: the plain table for the terminal."""

from purfling.reckonings.lapping.compute import LappingCase
from purfling.words import decimal, say
from purfling.words.columns import columns, tail


def plain(case: LappingCase, language: str = "en") -> str:
    """What ``purfling lapping`` prints without --json."""
    r = case.answer.results
    made = case.winding

    def row(code: str, value: float, decimals: int, unit: str) -> list[str]:
        return [say(f"lapping.{code}", language), decimal(value, decimals, language), unit]

    rows = [
        row("row_turns", r["turns"], 1, ""),
        row("row_wire", r["wire_mm"] / 1000.0, 3, "m"),
        row("row_cut", r["wire_to_cut_mm"] / 1000.0, 3, "m"),
        row("row_mass", r["mass_g"], 2, "g"),
        row("row_mass_error", r["mass_error_g"], 2, "g"),
        row("row_underlay", r["underlay_mm"], 2, "mm"),
        row("row_sheets", r["underlay_sheets"], 0, ""),
    ]
    shift = r["balance_shift_mm"]
    if shift is not None:
        rows.append(row("row_shift", shift, 1, "mm"))
    head = say(
        "lapping.head",
        language,
        material=say(f"lapping.material_{made.material.key}", language),
        wire=decimal(made.lapping.wire_mm, 2, language),
        length=decimal(made.lapping.length_mm, 1, language),
        girth=decimal(r["girth_mm"], 2, language),
    )
    lines = [head, "", *columns(["", "", ""], rows)[1:]]
    if shift is not None:
        code = "towards_frog" if shift < 0 else "towards_head"
        lines.append(say(f"lapping.{code}", language, shift=decimal(abs(shift), 1, language)))
    lines += ["", say("bow.cautions", language) + ":"]
    lines += [f"  - {say(code, language)}" for code in r["cautions"]]
    return "\n".join([*lines, "", *tail(case.answer, language)])
