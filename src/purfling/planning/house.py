"""The work of the whole house laid forward on one bench: what is ready when, and whom a later wait hits."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from purfling.planning.calendar import BenchHours, Period

FURTHEST_DAYS = 200


@dataclass(frozen=True)
class HouseWork:
    """What is left of one operation.

    ``minutes`` hands-on still to do (0: only its wait is left); ``wait_min`` minutes of wait after the hands;
    ``not_before`` the moment its wait or the object allows; ``after`` ids; ``visit`` whose it is; ``due`` the
    visit's promise; ``in_hand`` goes on first;
    ``laid_down`` may be cut by a closing time.
    """

    id: str
    visit: str
    minutes: int
    wait_min: int = 0
    after: tuple[str, ...] = ()
    not_before: datetime | None = None
    due: datetime | None = None
    in_hand: bool = False
    laid_down: bool = False


@dataclass(frozen=True)
class HousePlan:
    """``pieces`` of hands by operation, ``free_at`` when each may be followed, ``ready`` by visit."""

    pieces: Mapping[str, tuple[Period, ...]]
    free_at: Mapping[str, datetime]
    ready: Mapping[str, datetime]


def _place(minutes: int, earliest: datetime, hours: BenchHours, cut: bool) -> tuple[Period, ...]:
    need = timedelta(minutes=minutes)
    if not need:
        return ((earliest, earliest),)
    whole = need <= hours.longest() and not cut
    pieces: list[Period] = []
    for begin, end in hours.periods(earliest, FURTHEST_DAYS):
        if whole:
            if end - begin >= need:
                return ((begin, begin + need),)
            continue
        taken = min(end - begin, need)
        pieces.append((begin, begin + taken))
        need -= taken
        if not need:
            return tuple(pieces)
    last = earliest + timedelta(days=FURTHEST_DAYS)
    return ((last, last + need),)


def _tails(work: Sequence[HouseWork]) -> dict[str, float]:
    tails: dict[str, float] = {}
    for one in reversed(work):
        follow = [tails.get(o.id, 0.0) for o in work if one.id in o.after]
        tails[one.id] = one.minutes + one.wait_min + max(follow, default=0.0)
    return tails


def lay_house(work: Sequence[HouseWork], start: datetime, hours: BenchHours) -> HousePlan:
    """Lay what is left of every visit on one bench: of what may begin next, the most pressing promise goes
    first.

    Parameters
    ----------
    work : what is left, each object's operations in their order; start : this moment (local, no zone);
    hours : the bench hours.

    Returns
    -------
    HousePlan; an operation whose predecessors are not in ``work`` is free to begin.
    """
    known = {o.id for o in work}
    tails = _tails(work)
    left = list(work)
    pieces: dict[str, tuple[Period, ...]] = {}
    free_at: dict[str, datetime] = {}
    hands = start
    far = datetime.max
    while left:
        options = []
        for place, one in enumerate(left):
            before = [a for a in one.after if a in known]
            if any(a not in free_at for a in before):
                continue
            earliest = max([start, one.not_before or start, *[free_at[a] for a in before]])
            begin = max(earliest, hands) if one.minutes else earliest
            laid = _place(one.minutes, begin, hours, one.laid_down)
            slack = (one.due - timedelta(minutes=tails[one.id])) if one.due else far
            options.append(((laid[0][0], not one.in_hand, slack, -tails[one.id], place), one, laid))
        if not options:
            options = [
                (
                    (start, True, far, 0.0, 0),
                    left[0],
                    _place(left[0].minutes, hands, hours, left[0].laid_down),
                )
            ]
        _, chosen, laid = min(options, key=lambda c: c[0])
        pieces[chosen.id] = laid
        free_at[chosen.id] = laid[-1][1] + timedelta(minutes=chosen.wait_min)
        if chosen.minutes:
            hands = laid[-1][1]
        left.remove(chosen)
    ready: dict[str, datetime] = {}
    for one in work:
        ready[one.visit] = max(ready.get(one.visit, start), free_at[one.id])
    return HousePlan(pieces, free_at, ready)


def hit_by(before: HousePlan, after: HousePlan) -> dict[str, tuple[datetime, datetime]]:
    """The visits that are ready later in the second plan: visit -> (ready before, ready after)."""
    return {
        visit: (before.ready[visit], later)
        for visit, later in after.ready.items()
        if visit in before.ready and later > before.ready[visit]
    }
