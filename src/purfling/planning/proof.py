"""The independent checker of a plan: every rule of the bench, read from the load itself and in plain minutes.

It shares nothing with the search: no axis, no arrays. A plan is shown only when it finds nothing wrong.
"""

from collections import defaultdict
from dataclasses import dataclass
from itertools import pairwise

from purfling.planning.hours import bench_periods
from purfling.planning.load import DAY, Load, Operation, Piece, Plan, Preparation, Visit

Span = tuple[int, int]


@dataclass(frozen=True)
class Fault:
    """A rule that a plan breaks: where (visit and operation, or a family and None) and which."""

    visit: str
    id: str | None
    rule: str


def _overlap(a: Span, b: Span) -> bool:
    return a[0] < b[1] and b[0] < a[1]


def hands_on(periods: list[Span], start: int, end: int) -> int:
    """Minutes of bench time in [start, end)."""
    return sum(max(0, min(end, b) - max(start, a)) for a, b in periods)


class Book:
    """A plan laid open: the pieces of each operation, holds and windows."""

    def __init__(self, load: Load, plan: Plan, periods: list[Span]) -> None:
        self.load, self.plan, self.periods = load, plan, periods
        self.pieces: dict[tuple[str, str], list[Piece]] = defaultdict(list)
        for piece in plan.pieces:
            self.pieces[piece.visit, piece.id].append(piece)
        for pieces in self.pieces.values():
            pieces.sort(key=lambda p: p.piece)

    def start(self, visit: Visit, id: str) -> int | None:
        """When an operation began or begins (None for done work whose start nobody wrote down)."""
        one = visit.operation(id)
        if one.state == "done":
            return one.started_at
        found = self.pieces.get((visit.id, id))
        return found[0].start if found else None

    def end(self, visit: Visit, id: str) -> int | None:
        """When an operation ended or ends."""
        one = visit.operation(id)
        if one.state == "done":
            return one.ended_at
        found = self.pieces.get((visit.id, id))
        return found[-1].end if found else None

    def held(self, visit: Visit, one: Operation) -> Span | None:
        """From the start of an operation to the start of its ``until``, at least to its own end."""
        end = self.end(visit, one.id)
        if end is None:
            return None
        start = self.start(visit, one.id)
        begin = min(end, self.load.now) if start is None else start
        if one.until is not None:
            until_start = self.start(visit, one.until)
            if until_start is not None:
                end = max(end, until_start)
        return begin, end


def _check_pieces(book: Book, visit: Visit, one: Operation) -> list[str]:
    found = book.pieces.get((visit.id, one.id), [])
    if one.state == "done":
        return ["done work is planned"] if found else []
    if [p.piece for p in found] != list(range(1, len(one.pieces) + 1)):
        return ["pieces"]
    wrong = []
    for piece, minutes in zip(found, one.pieces, strict=True):
        past = one.state == "started" and piece.piece == 1
        if piece.start % 5 or hands_on(book.periods, piece.start, piece.end) != minutes:
            wrong.append("minutes on the bench")
        inside = [p for p in book.periods if _overlap(p, (piece.start, piece.end))]
        if not inside or (inside[0][0] > piece.start and not past) or inside[-1][1] < piece.end:
            wrong.append("bench hours")
        if not one.interruptible and len(inside) > 1:
            wrong.append("one bench period")
        if not past and piece.start < max(book.load.now, visit.arrives):
            wrong.append("before now or arrival")
        if past and piece.start != one.started_at:
            wrong.append("started work moved")
    if one.fixed_start is not None and one.state == "open" and found[0].start != one.fixed_start:
        wrong.append("fixed start")
    wrong += ["order of pieces" for a, b in pairwise(found) if b.start < a.end]
    return wrong


def _check_person(book: Book, one: Operation, pieces: list[Piece]) -> list[str]:
    people = {p.name: p for p in book.load.people}
    wrong = []
    if len({p.person for p in pieces}) > 1:
        wrong.append("one person")
    for piece in pieces:
        person = people.get(piece.person)
        if person is None or (one.skill is not None and one.skill not in person.skills):
            wrong.append("skill")
            continue
        if any(_overlap(away, (piece.start, piece.end)) for away in person.away):
            wrong.append("away")
        if one.fixed_person is not None and piece.person != one.fixed_person:
            wrong.append("fixed person")
    return wrong


def _check_waits(book: Book, visit: Visit, one: Operation) -> list[str]:
    start = book.start(visit, one.id)
    wrong: list[str] = []
    if one.state != "open" or start is None:
        return wrong
    for wait in one.after:
        end = book.end(visit, wait.id)
        if end is None:
            wrong.append("wait")
        elif start < end + wait.wait_min:
            wrong.append("least wait")
        elif wait.wait_max is not None and start > end + wait.wait_max:
            wrong.append("longest wait")
    return wrong


def _check_objects(book: Book, visit: Visit) -> list[Fault]:
    busy: dict[str, list[Piece]] = defaultdict(list)
    for one in visit.operations:
        busy[one.object or visit.id] += book.pieces.get((visit.id, one.id), [])
    wrong = []
    for pieces in busy.values():
        pieces.sort(key=lambda p: (p.start, p.end))
        for a, b in pairwise(pieces):
            if b.start < a.end:
                wrong.append(Fault(visit.id, b.id, "object"))
    for x, y in visit.never_during:
        window = book.held(visit, visit.operation(y))
        if window is None:
            continue
        for piece in book.pieces.get((visit.id, x), []):
            if visit.operation(x).state == "open" and _overlap(window, (piece.start, piece.end)):
                wrong.append(Fault(visit.id, x, "never during"))
    return wrong


def _check_people(book: Book) -> list[Fault]:
    spans: dict[str, list[tuple[int, int, str, str | None]]] = defaultdict(list)
    for piece in book.plan.pieces:
        spans[piece.person].append((piece.start, piece.end, piece.visit, piece.id))
    for one in book.plan.preparations:
        end = one.start + book.load.setups[one.family].minutes
        spans[one.person].append((one.start, end, one.family, None))
    wrong = []
    for rows in spans.values():
        rows.sort(key=lambda r: (r[0], r[1]))
        wrong += [Fault(b[2], b[3], "two at once") for a, b in pairwise(rows) if b[0] < a[1]]
    return wrong


def _check_places(book: Book) -> list[Fault]:
    events: dict[str, list[tuple[int, int, str, str]]] = defaultdict(list)
    for visit in book.load.visits:
        for one in visit.operations:
            span = book.held(visit, one) if one.place is not None else None
            if one.place is None or span is None or span[1] <= book.load.now:
                continue
            events[one.place].append((span[0], 1, visit.id, one.id))
            events[one.place].append((span[1], -1, visit.id, one.id))
    wrong = []
    for place, rows in events.items():
        used = 0
        for _, change, visit_id, id in sorted(rows):
            used += change
            if used > book.load.places[place]:
                wrong.append(Fault(visit_id, id, "place"))
    return wrong


def _serves(book: Book, one: Preparation, piece: Piece) -> bool:
    setup = book.load.setups[one.family]
    ready = one.start + setup.minutes + setup.warm_minutes
    if ready > piece.start:
        return False
    if setup.keeps == "day":
        return one.start // DAY == piece.start // DAY
    return any(a <= one.start and piece.start < b for a, b in book.periods)


def _check_preparations(book: Book) -> list[Fault]:
    wrong = []
    for one in book.plan.preparations:
        span = (one.start, one.start + book.load.setups[one.family].minutes)
        person = next((p for p in book.load.people if p.name == one.person), None)
        if person is None or any(_overlap(away, span) for away in person.away):
            wrong.append(Fault(one.family, None, "set-up: person"))
        if not any(a <= span[0] and span[1] <= b for a, b in book.periods):
            wrong.append(Fault(one.family, None, "set-up: one bench period"))
    for visit in book.load.visits:
        for one_op in visit.operations:
            if one_op.family is None:
                continue
            for piece in book.pieces.get((visit.id, one_op.id), []):
                past = one_op.state == "started" and piece.piece == 1
                served = (
                    _serves(book, p, piece) for p in book.plan.preparations if p.family == one_op.family
                )
                if not past and not any(served):
                    wrong.append(Fault(visit.id, one_op.id, "set-up"))
    return wrong


def faults(load: Load, plan: Plan, use_evenings: bool = False) -> list[Fault]:
    """Everything that is wrong with a plan; none for a plan that may be shown.

    Parameters
    ----------
    load : Load
    plan : Plan
    use_evenings : bool
        Whether evenings may be worked.
    """
    moments = [load.now, *(p.start for p in plan.pieces), *(p.end for p in plan.pieces)]
    moments += [p.start for p in plan.preparations]
    first, last = min(moments) // DAY, max(moments) // DAY
    book = Book(load, plan, bench_periods(load, first - 1, last - first + 3, use_evenings))
    wrong: list[Fault] = []
    known = {(v.id, o.id) for v in load.visits for o in v.operations}
    wrong += [Fault(p.visit, p.id, "unknown") for p in plan.pieces if (p.visit, p.id) not in known]
    for visit in load.visits:
        for one in visit.operations:
            rules = _check_pieces(book, visit, one)
            rules += _check_person(book, one, book.pieces.get((visit.id, one.id), []))
            rules += _check_waits(book, visit, one)
            wrong += [Fault(visit.id, one.id, rule) for rule in rules]
        wrong += _check_objects(book, visit)
    return wrong + _check_people(book) + _check_places(book) + _check_preparations(book)
