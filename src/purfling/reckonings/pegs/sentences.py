"""The pegs in words."""

from purfling.reckonings.pegs.compute import PegsCase
from purfling.words import decimal, say
from purfling.words.columns import columns, tail


def sentences(case: PegsCase, language: str = "en") -> list[str]:
    """How far each peg goes in and whether it is to be bushed."""

    def d(value: float, n: int = 2) -> str:
        return decimal(value, n, language)

    lines = []
    for row in case.answer.results["pegs"]:
        if row["travel_mm"]:
            lines.append(
                say(
                    "arithmetic.peg_goes_in",
                    language,
                    peg=row["peg"],
                    by=d(row["travel_mm"], 1),
                    wear=d(row["wear_mm"]),
                )
            )
        code = "peg_bush" if row["bush"] else "peg_bears"
        lines.append(
            say(
                f"arithmetic.{code}",
                language,
                peg=row["peg"],
                left=d(abs(row["wear_left_mm"])),
                travel=d(abs(row["travel_left_mm"]), 1),
                limit=say(f"arithmetic.limit_{row['limited_by']}", language),
            )
        )
    lines.append(say("arithmetic.peg_caution", language))
    return lines


def plain(case: PegsCase, language: str = "en") -> str:
    """What ``purfling pegs`` prints without --json."""

    def d(value: float | None, n: int = 1) -> str:
        return "-" if value is None else decimal(value, n, language)

    heads = ("peg", "hole_now", "wear", "goes_in", "standout", "cheek", "wear_left", "years")
    rows = [
        [
            r["peg"],
            d(r["diameter_mm"], 2),
            d(r["wear_mm"], 2),
            d(r["travel_mm"]),
            d(r["standout_after_mm"]),
            d(r["hole_to_cheek_after_mm"]),
            d(r["wear_left_mm"], 2),
            d(r["years_left"], 0),
        ]
        for r in case.answer.results["pegs"]
    ]
    head = [say(f"arithmetic.h_{h}", language) for h in heads]
    top = say(
        "arithmetic.pegs_head",
        language,
        taper=decimal(case.taper, 0, language),
        angle=decimal(case.answer.results["included_angle_deg"], 2, language),
    )
    lines = [top, "", *columns(head, rows), "", *sentences(case, language)]
    return "\n".join([*lines, "", *tail(case.answer, language)])
