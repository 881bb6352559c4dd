"""A plan in words: day by day, who does what, then the visits and how late they are."""

from collections import defaultdict
from datetime import date

from purfling.planning.load import DAY
from purfling.reckonings.plan.compute import PlanCase
from purfling.words import say
from purfling.words.columns import columns, tail

_DAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


def day_name(day: int, language: str) -> str:
    """``Tue 2026-11-24`` of a day number."""
    found = date.fromordinal(day)
    return f"{say('plan.' + _DAYS[found.weekday()], language)} {found.isoformat()}"


def _clock(minutes: int) -> str:
    rest = minutes % DAY
    return f"{rest // 60:02d}:{rest % 60:02d}"


def _until(start: int, end: int) -> str:
    nights = end // DAY - start // DAY
    return _clock(end) + (f" +{nights}" if nights else "")


def _days(case: PlanCase, language: str) -> list[str]:
    assert case.solution is not None
    rows: dict[int, list[tuple[int, list[str]]]] = defaultdict(list)
    for piece in case.solution.plan.pieces:
        row = [_clock(piece.start), _until(piece.start, piece.end), piece.person, piece.visit, piece.id]
        rows[piece.start // DAY].append((piece.start, row))
    for one in case.solution.plan.preparations:
        end = one.start + case.load.setups[one.family].minutes
        row = [_clock(one.start), _clock(end), one.person, say("plan.setup", language), one.family]
        rows[one.start // DAY].append((one.start, row))
    head = [say(f"plan.{w}", language) for w in ("from", "to", "person", "visit", "operation")]
    lines: list[str] = []
    for day in sorted(rows):
        lines += [day_name(day, language)]
        table = columns(head, [row for _, row in sorted(rows[day])])
        lines += ["  " + line for line in table]
        lines.append("")
    return lines


def _visits(case: PlanCase, language: str) -> list[str]:
    rows = []
    for row in case.answer.results["visits"]:
        late = row["late_minutes"]
        hours = f"{late // 60}:{late % 60:02d}" if late else "-"
        rows.append([row["id"], (row["ready"] or "-").replace("T", " "), hours])
    return columns([say(f"plan.{w}", language) for w in ("visit", "ready", "late")], rows)


def _clash(case: PlanCase, language: str) -> list[str]:
    lines = [say("plan.clash", language)]
    lines += [f"  {row['visit']} {row['id']}: {row['demand']}" for row in case.answer.results["infeasible"]]
    return lines


def plain(case: PlanCase, language: str = "en") -> str:
    """What ``purfling plan`` prints without --json."""
    if case.solution is None:
        return "\n".join([*_clash(case, language), "", *tail(case.answer, language)]) + "\n"
    results = case.answer.results
    total = say(
        "plan.total",
        language,
        late=results["weighted_late_minutes"],
        bound=results["bound_minutes"],
        method=say(f"plan.method_{results['method']}", language),
    )
    lines = [*_days(case, language), *_visits(case, language), "", total, "", *tail(case.answer, language)]
    return "\n".join(lines) + "\n"
