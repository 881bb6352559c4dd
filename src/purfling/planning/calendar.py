"""Bench hours: when hands may work. Waits run around the clock and need no calendar."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
Period = tuple[datetime, datetime]


@dataclass(frozen=True)
class BenchHours:
    """Weekly periods by weekday name, closed days, and evenings that count only where asked for.

    ``week`` maps "mon" .. "sun" to (start, end) times in order; ``evenings`` are whole periods.
    """

    week: Mapping[str, Sequence[tuple[time, time]]]
    closed: frozenset[date] = frozenset()
    evenings: tuple[Period, ...] = ()

    def of_day(self, day: date, with_evenings: bool = False) -> list[Period]:
        """The bench periods of one day, in order; touching or overlapping ones are joined."""
        found: list[Period] = []
        if day not in self.closed:
            for start, end in self.week.get(WEEKDAYS[day.weekday()], ()):
                found.append((datetime.combine(day, start), datetime.combine(day, end)))
        if with_evenings:
            found += [p for p in self.evenings if p[0].date() == day]
        joined: list[Period] = []
        for period in sorted(found):
            if joined and period[0] <= joined[-1][1]:
                joined[-1] = (joined[-1][0], max(joined[-1][1], period[1]))
            else:
                joined.append(period)
        return joined

    def periods(self, start: datetime, days: int, with_evenings: bool = False) -> Iterator[Period]:
        """Bench periods from a moment on, over a number of days; the first is cut at ``start``."""
        for offset in range(days + 1):
            for begin, end in self.of_day(start.date() + timedelta(days=offset), with_evenings):
                if end > start:
                    yield max(begin, start), end

    def first_open(self, moment: datetime, days: int = 60) -> datetime | None:
        """The first open moment at or after ``moment``, or None within ``days``."""
        for begin, _ in self.periods(moment, days):
            return begin
        return None

    def longest(self) -> timedelta:
        """The longest weekly period."""
        spans = [
            datetime.combine(date.min, b) - datetime.combine(date.min, a)
            for rows in self.week.values()
            for a, b in rows
        ]
        return max(spans, default=timedelta(0))
