"""Bench periods: the stretches of time in which hands may work."""

from purfling.planning.load import DAY, WEEKDAYS, Load


def weekday(day: int) -> str:
    """The weekday's key (``mon`` .. ``sun``) of a day number (``date.toordinal``)."""
    return WEEKDAYS[(day - 1) % 7]


def _with_evenings(periods: list[tuple[int, int]], evenings: list[tuple[int, int]]) -> list[tuple[int, int]]:
    """Lay evenings over bench periods: what overlaps is joined, what only touches stays two periods."""
    merged: list[tuple[int, int]] = []
    for begin, end in sorted([*periods, *evenings]):
        if merged and begin < merged[-1][1]:
            merged[-1] = (merged[-1][0], max(end, merged[-1][1]))
        else:
            merged.append((begin, end))
    return merged


def bench_periods(load: Load, first_day: int, days: int, use_evenings: bool = False) -> list[tuple[int, int]]:
    """Every bench period (from, to) of ``days`` days from ``first_day``, in order.

    Parameters
    ----------
    load : Load
    first_day : int
        Day number (``date.toordinal``).
    days : int
        How many days.
    use_evenings : bool
        Whether the evenings may be used; an evening on a closed day is never used.

    Returns
    -------
    list of (int, int)
        Moments in minutes; periods do not overlap. Two periods that only touch stay two.
    """
    found = []
    for day in range(first_day, first_day + days):
        if day in load.closed:
            continue
        found += [(day * DAY + a, day * DAY + b) for a, b in load.bench_hours.get(weekday(day), ())]
    if use_evenings:
        span = range(first_day, first_day + days)
        evenings = [
            (a, b) for a, b in load.evenings if a // DAY in span and a // DAY not in load.closed and a < b
        ]
        found = _with_evenings(found, evenings)
    return found


def within_shop_hours(load: Load, moment: int) -> bool:
    """Whether the shop is open to players at a moment (closing time itself counts)."""
    day = moment // DAY
    if day in load.closed:
        return False
    hours = load.bench_hours if load.shop_hours is None else load.shop_hours
    return any(day * DAY + a <= moment <= day * DAY + b for a, b in hours.get(weekday(day), ()))
