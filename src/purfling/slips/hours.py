"""Bench hours and shop hours from a slip: {"mon": [["HH:MM", "HH:MM"], ...]}, closed days, evenings."""

from collections.abc import Mapping, Sequence
from datetime import date, time
from typing import Any

from purfling.craft.refusals import Refusal
from purfling.planning.calendar import WEEKDAYS, BenchHours, Period
from purfling.slips.view import moment


def _clock(text: Any, field: str) -> time:
    if isinstance(text, str) and len(text) == 5 and text[2] == ":":
        if text == "24:00":
            return time(23, 59)
        try:
            return time(int(text[:2]), int(text[3:]))
        except ValueError:
            pass
    raise Refusal("slips.bad_clock", field=field, value=str(text)[:40])


def week_hours(value: Any, field: str) -> dict[str, list[tuple[time, time]]]:
    """Weekly periods by weekday.

    Raises
    ------
    Refusal
        Not a table of weekdays, a clock that is none, a period that ends before it starts or overlaps.
    """
    if not isinstance(value, Mapping):
        raise Refusal("slips.not_a_table", name=field)
    found: dict[str, list[tuple[time, time]]] = {}
    for day, rows in value.items():
        if day not in WEEKDAYS:
            raise Refusal("slips.bad_weekday", field=field, value=str(day)[:40])
        if not isinstance(rows, Sequence) or isinstance(rows, str):
            raise Refusal("slips.not_a_list", field=f"{field}.{day}", value=str(rows)[:40])
        periods: list[tuple[time, time]] = []
        for row in rows:
            if not isinstance(row, Sequence) or isinstance(row, str) or len(row) != 2:
                raise Refusal("slips.bad_period", field=f"{field}.{day}", value=str(row)[:40])
            start, end = (_clock(t, f"{field}.{day}") for t in row)
            if end <= start or (periods and start < periods[-1][1]):
                raise Refusal("slips.bad_period", field=f"{field}.{day}", value=f"{row[0]} to {row[1]}")
            periods.append((start, end))
        found[day] = periods
    return found


def days(values: Sequence[str], field: str) -> frozenset[date]:
    """Closed days YYYY-MM-DD."""
    found = set()
    for text in values:
        try:
            found.add(date.fromisoformat(text))
        except ValueError as wrong:
            raise Refusal("slips.bad_day", field=field, value=text[:40]) from wrong
    return frozenset(found)


def spans(value: Any, field: str) -> tuple[Period, ...]:
    """[[from, to], ...] as whole periods within one day each."""
    if value is None:
        return ()
    if not isinstance(value, Sequence) or isinstance(value, str):
        raise Refusal("slips.not_a_list", field=field, value=str(value)[:40])
    found: list[Period] = []
    for row in value:
        if not isinstance(row, Sequence) or isinstance(row, str) or len(row) != 2:
            raise Refusal("slips.bad_period", field=field, value=str(row)[:40])
        start, end = moment(row[0], field), moment(row[1], field)
        if end <= start or end.date() != start.date():
            raise Refusal("slips.bad_period", field=field, value=f"{row[0]} to {row[1]}")
        found.append((start, end))
    return tuple(found)


def bench_hours(week: Any, closed: Sequence[str], evenings: Any, field: str) -> BenchHours:
    """Bench hours from their three parts."""
    return BenchHours(
        week=week_hours(week, field),
        closed=days(closed, "shop.closed"),
        evenings=spans(evenings, "shop.evenings"),
    )
