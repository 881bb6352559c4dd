"""A visit as tasks (pieces of operations): waits between them, holds, kept-out windows, items."""

from dataclasses import dataclass, field

from purfling.planning.graph import closure, clusters, members, topological
from purfling.planning.load import STEP, Operation, Visit


@dataclass(frozen=True)
class Task:
    """One piece; ``first`` and ``last`` are the tasks of the whole operation (numbers within the visit)."""

    operation: Operation
    piece: int
    minutes: int
    first: int
    last: int
    ghost: bool = False


@dataclass
class VisitTasks:
    """The tasks of a visit with numbers of their own.

    ``before`` [task]: (task, least, most or -1) in ticks; ``holds``: (first, last, until or -1);
    ``bans``: (x, y first, y last, until or -1); ``items``: groups of tasks that are placed in one go, each in
    placing order; ``arcs``: (a, b), a is placed before b.
    """

    visit: Visit
    tasks: list[Task] = field(default_factory=list)
    first_of: dict[str, int] = field(default_factory=dict)
    before: list[list[tuple[int, int, int]]] = field(default_factory=list)
    holds: list[tuple[int, int, int]] = field(default_factory=list)
    bans: list[tuple[int, int, int, int]] = field(default_factory=list)
    items: list[list[int]] = field(default_factory=list)
    arcs: list[tuple[int, int]] = field(default_factory=list)
    reach: list[int] = field(default_factory=list)


def _pending(visit: Visit, id: str | None) -> bool:
    return id is not None and visit.operation(id).state == "open"


def _is_ghost(visit: Visit, one: Operation) -> bool:
    """Done work whose place is still held, or whose drying something must keep out of."""
    if one.state != "done" or not _pending(visit, one.until):
        return False
    return one.place is not None or any(y == one.id for _, y in visit.never_during)


def _add_tasks(found: VisitTasks) -> None:
    for one in found.visit.operations:
        ghost = _is_ghost(found.visit, one)
        if one.state == "done" and not ghost:
            continue
        lengths = (0,) if ghost else one.pieces
        first = len(found.tasks)
        found.first_of[one.id] = first
        for piece, minutes in enumerate(lengths, 1):
            found.tasks.append(Task(one, piece, minutes, first, first + len(lengths) - 1, ghost))
            found.before.append([(len(found.tasks) - 2, 0, -1)] if piece > 1 else [])


def _add_waits(found: VisitTasks) -> None:
    for one in found.visit.operations:
        if one.state == "done":
            continue
        first = found.first_of[one.id]
        for wait in one.after:
            if found.visit.operation(wait.id).state == "done":
                continue
            last = found.tasks[found.first_of[wait.id]].last
            most = -1 if wait.wait_max is None else wait.wait_max // STEP
            found.before[first].append((last, -(-wait.wait_min // STEP), most))


def _add_holds_and_bans(found: VisitTasks) -> None:
    visit = found.visit
    for one in visit.operations:
        if one.id not in found.first_of or one.place is None:
            continue
        first = found.first_of[one.id]
        last = found.tasks[first].last
        until = found.first_of.get(one.until or "", -1) if _pending(visit, one.until) else -1
        if until >= 0 and found.reach[until] >> first & 1:
            until = -1
        if until >= 0 or last > first:
            found.holds.append((first, last, until))
    for x, y in visit.never_during:
        if x not in found.first_of or y not in found.first_of or visit.operation(x).state != "open":
            continue
        first = found.first_of[y]
        last = found.tasks[first].last
        until_id = visit.operation(y).until
        until = found.first_of.get(until_id or "", -1) if _pending(visit, until_id) else -1
        if until >= 0 and found.reach[until] >> first & 1:
            until = -1
        for kept in range(found.first_of[x], found.tasks[found.first_of[x]].last + 1):
            found.bans.append((kept, first, last, until))


def matters(found: VisitTasks, ban: tuple[int, int, int, int]) -> bool:
    """Whether the waits alone do not yet keep x out of y's window."""
    kept, first, last, until = ban
    end = last if until < 0 else until
    return not (found.reach[kept] >> first & 1 or found.reach[end] >> kept & 1)


def _items(found: VisitTasks, arcs: list[tuple[int, int]]) -> None:
    """Group what a longest wait ties together; order the groups."""
    ties = []
    for task, rows in enumerate(found.before):
        ties += [1 << task | 1 << before for before, _, most in rows if most >= 0]
    more = [(first, until) for first, _, until in found.holds if until >= 0]
    for kept, first, last, until in found.bans:
        end = last if until < 0 else until
        if until >= 0:
            more.append((first, until))
        if found.reach[kept] >> end & 1:
            more.append((kept, first))
    found.arcs = [*arcs, *more]
    count = len(found.tasks)
    for bits in clusters(count, found.arcs, ties):
        inside = members(bits)
        number = {task: k for k, task in enumerate(inside)}
        local = [(number[a], number[b]) for a, b in found.arcs if a in number and b in number]
        found.items.append([inside[k] for k in topological(len(inside), local)])


def visit_tasks(visit: Visit) -> VisitTasks:
    """The tasks of a visit that are still to do (or hold something), and how they hang together."""
    found = VisitTasks(visit)
    _add_tasks(found)
    _add_waits(found)
    arcs = [(before, task) for task, rows in enumerate(found.before) for before, _, _ in rows]
    found.reach = closure(len(found.tasks), arcs)
    _add_holds_and_bans(found)
    _items(found, arcs)
    return found
