"""One visit, one pair of hands: the work list laid on the bench hours, waits around the clock.

A dispatch in time: whenever the hands are free, of the operations that may start the most urgent by a rule is
taken; several rules are tried and the plan that is ready first is kept. The longest chain of hands and waits
from the arrival is a proven lower bound of the ready hour.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from purfling.planning.calendar import BenchHours, Period
from purfling.refusals import Refusal

FURTHEST_DAYS = 200


@dataclass(frozen=True)
class Lag:
    """After which operation, and how many minutes of wall-clock time at least and at most."""

    id: str
    wait_min: int = 0
    wait_max: int | None = None


@dataclass(frozen=True)
class Operation:
    """One operation of a work list: hands-on minutes on one object, after others."""

    id: str
    object: str
    name: str
    minutes: int
    after: tuple[Lag, ...] = ()
    note: str = ""


@dataclass(frozen=True)
class Laid:
    """An operation on the bench: its pieces of hands-on time (more than one when a closing time cut it)."""

    operation: Operation
    pieces: tuple[Period, ...]

    @property
    def start(self) -> datetime:
        """When the hands begin."""
        return self.pieces[0][0]

    @property
    def end(self) -> datetime:
        """When the hands are done."""
        return self.pieces[-1][1]


@dataclass(frozen=True)
class BenchPlan:
    """A plan of one visit: operations by their starts, ready hour, lower bound, broken longest waits."""

    laid: tuple[Laid, ...]
    ready: datetime
    bound: datetime
    broken: tuple[tuple[str, str], ...]


def check_work(work: Sequence[Operation]) -> None:
    """Refuse a work list that cannot be worked.

    Raises
    ------
    Refusal
        An id twice, an unknown id in ``after``, a circle, a minimum wait over its maximum.
    """
    known = {o.id for o in work}
    if len(known) != len(work):
        seen: set[str] = set()
        for o in work:
            if o.id in seen:
                raise Refusal("service.id_twice", name=o.id[:60])
            seen.add(o.id)
    for o in work:
        for lag in o.after:
            if lag.id not in known:
                raise Refusal("service.unknown_after", name=o.id[:60], other=lag.id[:60])
            if lag.wait_max is not None and lag.wait_min > lag.wait_max:
                raise Refusal(
                    "service.wait_upside_down", name=o.id[:60], value=lag.wait_min, limit=lag.wait_max
                )
    in_order(work)


def in_order(work: Sequence[Operation]) -> list[Operation]:
    """The operations so that each comes after what it waits for (given order otherwise).

    Raises
    ------
    Refusal
        The precedences run in a circle.
    """
    done: set[str] = set()
    left = list(work)
    out: list[Operation] = []
    while left:
        ready = [o for o in left if all(lag.id in done for lag in o.after)]
        if not ready:
            raise Refusal("service.circle", name=left[0].id[:60])
        out.append(ready[0])
        done.add(ready[0].id)
        left.remove(ready[0])
    return out


def _place(minutes: int, earliest: datetime, hours: BenchHours, evenings: bool) -> tuple[Period, ...]:
    """The first bench time for an operation: whole in one period where one is long enough, else cut."""
    need = timedelta(minutes=minutes)
    whole = need <= hours.longest()
    pieces: list[Period] = []
    for begin, end in hours.periods(earliest, FURTHEST_DAYS, evenings):
        if whole:
            if end - begin >= need:
                return ((begin, begin + need),)
            continue
        taken = min(end - begin, need)
        pieces.append((begin, begin + taken))
        need -= taken
        if not need:
            return tuple(pieces)
    raise Refusal("service.no_bench_hours", value=FURTHEST_DAYS)


def _tails(work: Sequence[Operation]) -> dict[str, float]:
    """Longest chain of hands and waits from each operation's start to the end [min]."""
    tails: dict[str, float] = {}
    for o in reversed(in_order(work)):
        follow = [tails[other.id] + lag.wait_min for other in work for lag in other.after if lag.id == o.id]
        tails[o.id] = o.minutes + max(follow, default=0.0)
    return tails


def _rules(work: Sequence[Operation]) -> list[Callable[[Operation], tuple[float, ...]]]:
    tails = _tails(work)
    place = {o.id: i for i, o in enumerate(work)}
    waits = {
        o.id: max((lag.wait_min for other in work for lag in other.after if lag.id == o.id), default=0)
        for o in work
    }
    return [
        lambda o: (-tails[o.id], place[o.id]),
        lambda o: (-waits[o.id], -tails[o.id], place[o.id]),
        lambda o: (-(tails[o.id] - o.minutes), place[o.id]),
        lambda o: (o.minutes, -tails[o.id], place[o.id]),
        lambda o: (place[o.id],),
    ]


def _dispatch(
    work: Sequence[Operation],
    arrives: datetime,
    hours: BenchHours,
    evenings: bool,
    rule: Callable[[Operation], tuple[float, ...]],
) -> list[Laid]:
    ends: dict[str, datetime] = {}
    laid: list[Laid] = []
    left = list(work)
    free = arrives
    while left:
        options: list[tuple[datetime, tuple[float, ...], Operation, tuple[Period, ...]]] = []
        for o in left:
            if any(lag.id not in ends for lag in o.after):
                continue
            earliest = max([free, *[ends[g.id] + timedelta(minutes=g.wait_min) for g in o.after]])
            pieces = _place(o.minutes, earliest, hours, evenings)
            urgent = any(g.wait_max is not None for g in o.after)
            key = (-1.0,) if urgent else rule(o)
            options.append((pieces[0][0], key, o, pieces))
        begin = min(options, key=lambda c: (c[0], c[1]))[0]
        _, _, chosen, pieces = min((c for c in options if c[0] == begin), key=lambda c: c[1])
        laid.append(Laid(chosen, pieces))
        ends[chosen.id] = free = pieces[-1][1]
        left.remove(chosen)
    return laid


def _broken(laid: Sequence[Laid]) -> list[tuple[str, str]]:
    ends = {x.operation.id: x.end for x in laid}
    found = []
    for x in laid:
        for lag in x.operation.after:
            if lag.wait_max is not None and x.start > ends[lag.id] + timedelta(minutes=lag.wait_max):
                found.append((lag.id, x.operation.id))
    return found


def _bound(work: Sequence[Operation], arrives: datetime, hours: BenchHours, evenings: bool) -> datetime:
    """Ready hour if every operation had a pair of hands of its own: no plan can be earlier."""
    ends: dict[str, datetime] = {}
    for o in in_order(work):
        earliest = max([arrives, *[ends[g.id] + timedelta(minutes=g.wait_min) for g in o.after]])
        ends[o.id] = _place(o.minutes, earliest, hours, evenings)[-1][1]
    return max(ends.values())


def lay_on_bench(
    work: Sequence[Operation], arrives: datetime, hours: BenchHours, evenings: bool = False
) -> BenchPlan:
    """The work list laid on the bench hours from ``arrives`` on.

    Returns
    -------
    BenchPlan; ``broken`` names the (first, second) operations between which a longest wait could not be kept.

    Raises
    ------
    Refusal
        As ``check_work``; no bench hours for an operation within 200 days; no operations.
    """
    check_work(work)
    if not work:
        raise Refusal("service.no_work")
    best: list[Laid] = []
    score: tuple[int, datetime] | None = None
    for rule in _rules(work):
        laid = _dispatch(work, arrives, hours, evenings, rule)
        found = (len(_broken(laid)), max(x.end for x in laid))
        if score is None or found < score:
            best, score = laid, found
    return BenchPlan(
        laid=tuple(sorted(best, key=lambda x: x.start)),
        ready=max(x.end for x in best),
        bound=_bound(work, arrives, hours, evenings),
        broken=tuple(_broken(best)),
    )
