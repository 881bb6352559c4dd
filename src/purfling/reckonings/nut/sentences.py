"""The nut in words."""

from purfling.reckonings.nut.compute import NutCase
from purfling.words import decimal, say
from purfling.words.columns import columns, tail

HEADS = ("string", "centres", "gaps", "now", "wished", "file_to", "cut", "crown", "edge")


def plain(case: NutCase, language: str = "en") -> str:
    """What ``purfling nut`` prints without --json."""

    def d(value: float | None, n: int = 2) -> str:
        return "-" if value is None else decimal(value, n, language)

    head = [say(f"arithmetic.h_{c}", language) for c in HEADS]
    rows = [
        [
            string.name,
            d(g.centres_mm + case.spacing_mm / 2),
            d(g.gaps_mm + case.spacing_mm / 2),
            d(g.clearance_mm),
            d(g.wished_mm),
            d(g.file_to_mm),
            d(g.cut_mm),
            d(g.crown_mm),
            d(g.edge_margin_gaps_mm if case.chosen == "gaps" else g.edge_margin_centres_mm),
        ]
        for string, g in zip(case.strings, case.grooves, strict=True)
    ]
    results = case.answer.results
    lines = [say("arithmetic.nut_head", language), "", *columns(head, rows), ""]
    lines.append(say("arithmetic.nut_gap", language, gap=d(results["gap_mm"]), spacing=d(case.spacing_mm)))
    for string, g in zip(case.strings, case.grooves, strict=True):
        if g.cut_mm is None or abs(g.cut_mm) < 0.005:
            continue
        code = "groove_down" if g.cut_mm > 0 else "groove_up"
        lines.append(say(f"arithmetic.{code}", language, string=string.name, by=d(abs(g.cut_mm))))
    lines.append(say("arithmetic.nut_strung", language, bedding=d(results["bedding_mm"])))
    lines.append(say("arithmetic.nut_caution", language))
    return "\n".join([*lines, "", *tail(case.answer, language)])
