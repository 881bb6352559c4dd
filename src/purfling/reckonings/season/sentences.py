"""Season or neck, in words."""

from purfling.reckonings.change.compute import goes
from purfling.reckonings.change.sentences import signed
from purfling.reckonings.season.compute import SeasonCase
from purfling.words import decimal, say
from purfling.words.columns import columns, tail


def sentences(case: SeasonCase, language: str = "en") -> list[str]:
    """What the projection did, what is left over, what the season explains, what it means."""

    def d(value: float, n: int = 2) -> str:
        return decimal(abs(value), n, language)

    def s(code: str, **params: object) -> str:
        return say(f"arithmetic.{code}", language, **params)

    r = case.answer.results
    word = {"DOWN": "fell", "UP": "rose", "STAYS": "stood"}[goes(r["projection_change_mm"])]
    lines = [
        s(
            f"season_{word}",
            by=d(r["projection_change_mm"]),
            error=d(r["projection_change_error_mm"]),
            read=signed(r["projection_read_change_mm"], 2, language),
        ),
        s("season_left", left=signed(r["left_over_mm"], 2, language), error=d(r["left_over_error_mm"])),
    ]
    for which, air in zip(("before", "now"), case.air, strict=True):
        if air is not None:
            lines.append(
                s(
                    f"air_{which}",
                    humidity=d(air.humidity_percent, 0),
                    temperature=decimal(air.temperature_c, 0, language),
                    emc=d(air.emc_percent, 1),
                    error=d(air.error_percent, 1),
                )
            )
    if r["season_mm"] is not None:
        lines.append(
            s(
                "season_explains",
                by=signed(r["season_mm"], 2, language),
                error=d(r["season_error_mm"]),
                slope=signed(r["yearly_mm_per_percent"], 2, language),
                n=r["n"],
            )
        )
    if r["neck_moved_mm"] is not None:
        code = "neck_sank" if r["neck_moved_mm"] < 0 else "neck_rose"
        lines.append(
            s(
                code,
                belly=signed(r["belly_rose_mm"], 2, language),
                by=d(r["neck_moved_mm"]),
                error=d(r["neck_moved_error_mm"]),
            )
        )
    lines.append(s(f"verdict_{r['verdict']}", beyond=signed(r["beyond_season_mm"] or 0.0, 2, language)))
    return lines


def plain(case: SeasonCase, language: str = "en") -> str:
    """What ``purfling season`` prints without --json."""
    head = [
        say(f"arithmetic.h_{h}", language)
        for h in ("string", "end_before", "end_now", "nut_before", "nut_now", "tells")
    ]
    one, other = case.before.setup, case.now.setup
    rows = [
        [
            place.name,
            decimal(one.clearance_mm[i], 2, language),
            decimal(other.clearance_mm[i], 2, language),
            decimal(one.nut_clearance_mm[i], 2, language),
            decimal(other.nut_clearance_mm[i], 2, language),
            signed(case.fall.each_mm[i], 2, language),
        ]
        for i, place in enumerate(other.strings)
    ]
    lines = [*columns(head, rows), "", *sentences(case, language)]
    return "\n".join([*lines, "", *tail(case.answer, language)])
