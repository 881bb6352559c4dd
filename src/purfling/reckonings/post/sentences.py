"""The sound post in words."""

from typing import Any

from purfling.reckonings.change.sentences import signed
from purfling.reckonings.post.compute import PostCase
from purfling.words import decimal, say
from purfling.words.columns import columns, tail

CODES = {"TOO LONG": "post_too_long", "TOO SHORT": "post_too_short", "FITS": "post_fits"}


def _way(outward: float | None, back: float | None, language: str) -> str:
    """A move in words: 1.0 outward, 0.5 towards the tail."""
    parts = []
    for value, more, less in ((outward, "outward", "inward"), (back, "to_tail", "to_neck")):
        if value is not None and abs(value) >= 0.05:
            word = say(f"arithmetic.{more if value > 0 else less}", language)
            parts.append(f"{decimal(abs(value), 1, language)} mm {word}")
    if not parts:
        return say(
            "arithmetic.in_place" if outward is not None or back is not None else "arithmetic.way_unknown",
            language,
        )
    return ", ".join(parts)


def sentences(case: PostCase, language: str = "en") -> list[str]:
    """What becomes of the post, its ends, the season."""

    def d(value: float, n: int = 2) -> str:
        return decimal(abs(value), n, language)

    r = case.answer.results
    lines: list[str] = []
    if case.move is not None:
        way = _way(case.outward_mm, case.back_mm, language)
        lines.append(
            say(
                f"arithmetic.{CODES[r['post_becomes']]}",
                language,
                way=way,
                by=d(r["length_change_mm"]),
                error=d(r["length_change_error_mm"]),
            )
        )
        if r["length_mm"] is not None:
            lines.append(say("arithmetic.post_length", language, length=d(r["length_mm"], 1)))
        lines += _ends(r, language)
    season = r.get("season")
    if season is not None:
        code = "post_season" if season["now_percent"] is not None else "post_season_slope"
        lines.append(
            say(
                f"arithmetic.{code}",
                language,
                slope=signed(season["mm_per_percent"], 4, language),
                n=season["n"],
                dry=signed(season["to_driest_mm"] or 0.0, 2, language),
                damp=signed(season["to_dampest_mm"] or 0.0, 2, language),
                driest=decimal(season["driest_percent"], 0, language),
                dampest=decimal(season["dampest_percent"], 0, language),
            )
        )
    lines.append(say("arithmetic.post_caution", language))
    return lines


def _ends(r: dict[str, Any], language: str) -> list[str]:
    lines = []
    for end in ("top", "back"):
        if f"{end}_end_deg" not in r:
            continue
        angle, turn = r[f"{end}_end_deg"], r[f"{end}_turn_deg"]
        lines.append(
            say(
                f"arithmetic.post_end_{end}",
                language,
                across=decimal(angle["across"], 1, language),
                along=decimal(angle["along"], 1, language),
                turn_across=signed(turn["across"], 1, language),
                turn_along=signed(turn["along"], 1, language),
            )
        )
    return lines


def plain(case: PostCase, language: str = "en") -> str:
    """What ``purfling post`` prints without --json."""
    lines = sentences(case, language)
    tries = case.answer.results["tries"]
    if tries:
        heads = ("try", "behind", "inside", "tight", "verdict", "maker", "player", "way_back")
        rows = [
            [
                str(t["n"]),
                *("-" if t[k] is None else decimal(t[k], 1, language) for k in ("behind_mm", "inside_mm")),
                "-" if t["tightness"] is None else decimal(t["tightness"], 0, language),
                "-" if t["verdict"] is None else say(f"arithmetic.verdict_{t['verdict']}", language),
                t["maker"] or "-",
                t["player"] or "-",
                _way(t["way_back"]["outward_mm"], t["way_back"]["back_mm"], language),
            ]
            for t in tries
        ]
        lines += ["", *columns([say(f"arithmetic.h_{h}", language) for h in heads], rows)]
    return "\n".join([*lines, "", *tail(case.answer, language)])
