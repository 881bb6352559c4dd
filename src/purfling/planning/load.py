"""A bench load as the planner sees it: people, hours, places, set-ups, visits and their operations.

Every moment is a whole number of minutes since the calendar's first midnight (``date.toordinal() * 1440``),
local time; every length of time is in minutes and a multiple of ``STEP``.
"""

from dataclasses import dataclass, field
from typing import Literal

STEP = 5
DAY = 1440
WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")

State = Literal["open", "started", "done"]
Keeps = Literal["period", "day"]


@dataclass(frozen=True)
class Wait:
    """``id`` must have ended ``wait_min`` and at most ``wait_max`` (or None) minutes before."""

    id: str
    wait_min: int
    wait_max: int | None = None


@dataclass(frozen=True)
class Operation:
    """One operation of a visit; ``fixed_person`` and ``fixed_start`` are an appointment, each may be None."""

    id: str
    minutes: int
    skill: str | None = None
    interruptible: bool = False
    piece_minutes: int | None = None
    family: str | None = None
    place: str | None = None
    until: str | None = None
    after: tuple[Wait, ...] = ()
    object: str | None = None
    state: State = "open"
    started_at: int | None = None
    ended_at: int | None = None
    fixed_person: str | None = None
    fixed_start: int | None = None

    @property
    def pieces(self) -> tuple[int, ...]:
        """Minutes of each piece, in order; one piece for an operation that is not laid down."""
        if self.piece_minutes is None or self.piece_minutes >= self.minutes:
            return (self.minutes,)
        whole, rest = divmod(self.minutes, self.piece_minutes)
        return (self.piece_minutes,) * whole + ((rest,) if rest else ())


@dataclass(frozen=True)
class Visit:
    """One stay in the shop; ``never_during`` holds (x, y): x never while y waits for its ``until``."""

    id: str
    arrives: int
    promise: int
    weight: float
    operations: tuple[Operation, ...] = ()
    never_during: tuple[tuple[str, str], ...] = ()

    def operation(self, id: str) -> Operation:
        """The operation of that id (KeyError where there is none)."""
        for one in self.operations:
            if one.id == id:
                return one
        raise KeyError(id)


@dataclass(frozen=True)
class Person:
    """Somebody who works at the bench; ``away`` holds (from, to)."""

    name: str
    skills: frozenset[str] = frozenset()
    away: tuple[tuple[int, int], ...] = ()


@dataclass(frozen=True)
class SetUp:
    """What a family needs before it: hands-on minutes, then warming; kept for a period or a day."""

    minutes: int
    warm_minutes: int = 0
    keeps: Keeps = "period"


Hours = dict[str, tuple[tuple[int, int], ...]]


@dataclass(frozen=True)
class Load:
    """Everything that is to be planned; hours are (from, to) in minutes of the day by weekday."""

    now: int
    bench_hours: Hours
    people: tuple[Person, ...]
    visits: tuple[Visit, ...]
    shop_hours: Hours | None = None
    evenings: tuple[tuple[int, int], ...] = ()
    closed: frozenset[int] = frozenset()
    places: dict[str, int] = field(default_factory=dict)
    setups: dict[str, SetUp] = field(default_factory=dict)


@dataclass(frozen=True)
class Piece:
    """One planned piece of an operation: who, from when to when; ``piece`` counts from 1."""

    visit: str
    id: str
    piece: int
    person: str
    start: int
    end: int


@dataclass(frozen=True)
class Preparation:
    """One planned set-up of a family."""

    family: str
    person: str
    start: int


@dataclass(frozen=True)
class Plan:
    """Who does what when."""

    pieces: tuple[Piece, ...]
    preparations: tuple[Preparation, ...] = ()


@dataclass(frozen=True)
class Outcome:
    """When a visit is ready (None: it has no work) and how late that is, in minutes."""

    visit: str
    ready: int | None
    late: int


def outcomes(load: Load, plan: Plan) -> tuple[Outcome, ...]:
    """When each visit is ready under a plan, and its lateness against the promise [min]."""
    last: dict[str, int] = {}
    for visit in load.visits:
        for one in visit.operations:
            if one.state == "done" and one.ended_at is not None:
                last[visit.id] = max(last.get(visit.id, one.ended_at), one.ended_at)
    for piece in plan.pieces:
        last[piece.visit] = max(last.get(piece.visit, piece.end), piece.end)
    found = []
    for visit in load.visits:
        ready = last.get(visit.id)
        found.append(Outcome(visit.id, ready, 0 if ready is None else max(0, ready - visit.promise)))
    return tuple(found)


def weighted_late(load: Load, plan: Plan) -> float:
    """Sum of weight x lateness over the visits [min]."""
    weights = {v.id: v.weight for v in load.visits}
    return sum(weights[o.visit] * o.late for o in outcomes(load, plan))
