"""The bridge in words: the plain table for the terminal. Frequencies only in per cent until one was
measured."""

from dataclasses import replace
from typing import Any

from purfling.craft.result import Answer, Default
from purfling.reckonings.bridge.compute import BridgeCase
from purfling.words import decimal, say
from purfling.words.columns import columns, tail
from purfling.words.envelope import default_dict


def percent(value: float | None, language: str) -> str:
    """A change in per cent with its sign, or a dash."""
    if value is None:
        return "-"
    text = decimal(value, 1, language)
    return (
        f"+{text} %" if value > 0 and not text.startswith("-") and float(f"{value:.1f}") != 0 else f"{text} %"
    )


def balance_rows(results: dict[str, Any], language: str) -> list[list[str]]:
    """Rows (what, value, unit) of mass and balance."""

    def row(code: str, value: float, decimals: int, unit: str) -> list[str]:
        return [say(f"bridge.{code}", language), decimal(value, decimals, language), unit]

    rows = [
        row("row_mass", results["mass_g"], 2, "g"),
        row("row_centre", results["centre_of_mass_mm"][1], 1, "mm"),
        row("row_aside", results["centre_of_mass_mm"][0], 1, "mm"),
    ]
    if results["mass_above_waist_g"] is not None:
        rows += [
            row("row_above", results["mass_above_waist_g"], 2, "g"),
            row("row_below", results["mass_below_waist_g"], 2, "g"),
        ]
    rows.append(row("row_density", results["density_kg_m3"], 0, "kg/m3"))
    return rows


def cut_head(language: str) -> list[str]:
    """The heads of the table of cuts."""
    keys = ("cut", "deep", "rocking", "bouncing", "mass", "centre")
    return [say(f"bridge.head_{key}", language) for key in keys]


def cut_rows(results: dict[str, Any], language: str) -> list[list[str]]:
    """Rows of the table of cuts."""
    return [
        [
            cut_name(one, language),
            f"{decimal(one['amount_mm'], 2, language)} mm",
            percent(one["rocking_percent"], language),
            percent(one["bouncing_percent"], language),
            f"{decimal(one['mass_mg'], 0, language)} mg",
            f"{decimal(one['after']['centre_of_mass_mm'][1], 2, language)} mm",
        ]
        for one in results["cuts"]
    ]


def cut_name(one: dict[str, Any], language: str) -> str:
    """The place in the user's language, or the cut's own name."""
    return say(f"bridge.place_{one['place']}", language) if one["name"] == one["place"] else str(one["name"])


def mode_line(results: dict[str, Any], language: str) -> list[str]:
    """One line for each mode that is scaled; without a scale why there is none."""
    if results["scale"] is None:
        return []
    lines = [say("bridge.scaled_head", language)]
    for one in results["modes"]:
        if one["kind"] in ("rocking", "bouncing"):
            kind = say(f"bridge.kind_{one['kind']}", language)
            lines.append(f"  {kind}: {decimal(one['scaled_hz'], 0, language)} Hz")
    return lines


def measured_lines(results: dict[str, Any], language: str) -> list[str]:
    """What the taps say: mean and error, effective mass by the added mass beside the computed one."""
    taps = results["measured"]
    if taps is None:
        return []
    lines = []
    if taps["rocking_error_hz"] is not None:
        lines.append(
            say(
                "bridge.taps",
                language,
                value=decimal(taps["rocking_hz"], 0, language),
                error=decimal(taps["rocking_error_hz"], 0, language),
            )
        )
    if taps["top_mass_g"] is not None and taps["computed_top_mass_g"] is not None:
        lines.append(
            say(
                "bridge.top_mass",
                language,
                value=decimal(taps["top_mass_g"], 2, language),
                computed=decimal(taps["computed_top_mass_g"], 2, language),
            )
        )
    return lines


def lean_lines(results: dict[str, Any], language: str) -> list[str]:
    """Lean, stress, reserve and the verdict."""
    lean = results["lean"]
    held = "-" if lean["stress_held_mpa"] is None else decimal(lean["stress_held_mpa"], 1, language)
    free = "-" if lean["stress_mpa"] is None else decimal(lean["stress_mpa"], 1, language)
    return [
        say(
            "bridge.lean_line",
            language,
            back=decimal(lean["back_deg"], 1, language),
            centre=decimal(lean["centre_deg"], 1, language),
        ),
        say("bridge.stress_line", language, held=held, free=free),
        say(
            "bridge.reserve_line",
            language,
            held=decimal(lean["reserve_held"], 1, language),
            free=decimal(lean["reserve_free"], 1, language),
        ),
        say(
            f"bridge.verdict_{lean['verdict']}",
            language,
            travel=decimal(abs(lean["straighten_mm"]), 1, language),
            goes=max(lean["goes"], 1),
        ),
    ]


def _long_list(default: Default) -> bool:
    """Measures of our drawing, constants of the wood, mesh: many rows of one source."""
    table, _, key = default.field.partition(".")
    return (table in ("outline", "mesh") and key != "family") or (table == "wood" and key not in ("preset",))


def shown_defaults(answer: Answer, language: str) -> list[str]:
    """The defaults a reader weighs, one line each, and one line for the many of one source."""
    few = [default_dict(d, language) for d in answer.defaults if not _long_list(d)]
    lines = [f"{d['field']} = {d['value']} {d['unit']}".rstrip() + f" ({d['source']})" for d in few]
    return lines + _many_line(answer, language)


def _many_line(answer: Answer, language: str) -> list[str]:
    many = [d for d in answer.defaults if _long_list(d)]
    if not many:
        return []
    tables = ", ".join(sorted({d.field.partition(".")[0] for d in many}))
    return [say("bridge.many_defaults", language, n=len(many), tables=tables)]


def title(case: BridgeCase, language: str) -> str:
    """What bridge this is."""
    file = case.asked.inputs.get("outline.rings_file")
    if file:
        return say("bridge.title_rings", language, file=file)
    return say("bridge.title_drawn", language, family=say(f"bridge.family_{case.asked.family}", language))


def plain(case: BridgeCase, language: str = "en") -> str:
    """What ``purfling bridge`` prints without --json."""
    r = case.answer.results
    lines = [title(case, language), "", *columns(["", "", ""], balance_rows(r, language))[1:]]
    if r["cuts"]:
        lines += ["", say("bridge.cuts_title", language), *columns(cut_head(language), cut_rows(r, language))]
        lines.append(say("bridge.cuts_meaning", language))
    more = [*mode_line(r, language), *measured_lines(r, language)]
    if more:
        lines += ["", *more]
    lines += ["", say("bridge.lean_title", language), *[f"  {line}" for line in lean_lines(r, language)]]
    lines.append(f"  {say('bridge.caution', language)}")
    few = replace(case.answer, defaults=tuple(d for d in case.answer.defaults if not _long_list(d)))
    many = [f"  {line}" for line in _many_line(case.answer, language)]
    return "\n".join([*lines, "", *tail(few, language), *many])
