"""A set of strings in words."""

from typing import Any

from purfling.reckonings.change.sentences import signed
from purfling.reckonings.strings.compute import StringsCase
from purfling.words import decimal, say
from purfling.words.columns import columns, tail

HEADS = ("string", "density", "tension", "from", "down", "after_hz", "after_cents")


def _table(rows: list[dict[str, Any]], language: str) -> list[str]:
    def d(value: float, n: int = 2) -> str:
        return decimal(value, n, language)

    head = [say(f"arithmetic.h_{c}", language) for c in HEADS]
    body = [
        [
            r["name"],
            d(r["density_g_per_m"], 3),
            d(r["tension_n"], 1),
            say(f"arithmetic.from_{r['tension_from']}", language),
            d(r["down_force_n"], 1),
            d(r["afterlength_pitch_hz"], 0),
            f"{signed(r['afterlength_cents'], 0, language)} (+-{d(r['afterlength_bound_cents'], 0)})",
        ]
        for r in rows
    ]
    return columns(head, body)


def sentences(case: StringsCase, language: str = "en") -> list[str]:
    """Loads, their change, and what the tailpiece does."""

    def d(value: float, n: int = 1) -> str:
        return decimal(abs(value), n, language)

    results = case.answer.results
    load = results["load"]
    lines = [
        say(
            "arithmetic.set_load",
            language,
            total=d(load["total_tension_n"]),
            down=d(load["total_down_force_n"]),
            bass=d(load["bass_foot_n"]),
            treble=d(load["treble_foot_n"]),
        )
    ]
    if "new" in results:
        by = results["new"]["change"]
        code = "set_presses_more" if by["total_down_force_n"] > 0 else "set_presses_less"
        lines.append(
            say(
                f"arithmetic.{code}",
                language,
                by=d(by["total_down_force_n"]),
                percent=d(by["down_force_percent"]),
                bass=signed(by["bass_foot_n"], 1, language),
                treble=signed(by["treble_foot_n"], 1, language),
            )
        )
    move = case.tail
    if move is None:
        lines.append(say("arithmetic.tail_unknown", language, wished=d(results["tail"]["wished_mm"])))
    elif abs(move.move_mm) < 0.05:
        lines.append(say("arithmetic.tail_stays", language, wished=d(results["tail"]["wished_mm"])))
    else:
        code = "tail_to_saddle" if move.move_mm > 0 else "tail_to_bridge"
        lines.append(
            say(
                f"arithmetic.{code}",
                language,
                by=d(move.move_mm),
                loop=d(move.loop_mm),
                wished=d(results["tail"]["wished_mm"]),
            )
        )
    return lines


def plain(case: StringsCase, language: str = "en") -> str:
    """What ``purfling strings`` prints without --json."""
    results = case.answer.results
    lines = [say("arithmetic.set_now", language), *_table(results["strings"], language), ""]
    if "new" in results:
        lines += [say("arithmetic.set_new", language), *_table(results["new"]["strings"], language), ""]
    lines += sentences(case, language)
    for side in ("nut", "bridge"):
        place = results.get("new", results)["spacing"][side]
        shown = "  ".join(decimal(v - place["gaps_mm"][0], 2, language) for v in place["gaps_mm"])
        lines.append(
            say(f"arithmetic.gaps_{side}", language, places=shown, gap=decimal(place["gap_mm"], 2, language))
        )
    lines.append(say("arithmetic.set_formula", language, formula=results["formula"]))
    return "\n".join([*lines, "", *tail(case.answer, language)])
