"""A load on an axis as the arrays of the inner loops."""

from dataclasses import dataclass

import numpy as np

from purfling.planning.axis import Axis, build_axis
from purfling.planning.load import DAY, STEP, Load, Piece, Plan, Preparation
from purfling.planning.pieces import VisitTasks, matters, visit_tasks
from purfling.planning.state import Hands, Ints, Tables
from purfling.planning.windows import Windows, narrow


@dataclass(frozen=True)
class Compiled:
    """A load, its axis, its arrays, and what their numbers mean."""

    load: Load
    axis: Axis
    visits: tuple[VisitTasks, ...]
    first_task: tuple[int, ...]
    tables: Tables
    windows: tuple[Windows, ...]
    people_order: tuple[int, ...]
    impossible: bool

    def names(self, task: int) -> tuple[int, int]:
        """(visit, task within the visit) of a task."""
        visit = int(self.tables.visit[task])
        return visit, task - self.first_task[visit]


def _ints(values: object) -> Ints:
    return np.array(values, dtype=np.int32)


def _rows(lists: list[list[tuple[int, ...]]], width: int) -> tuple[Ints, list[Ints]]:
    """Lists of rows -> (first row of each, columns)."""
    begin = np.zeros(len(lists) + 1, dtype=np.int32)
    begin[1:] = np.cumsum([len(rows) for rows in lists])
    flat = [row for rows in lists for row in rows]
    return begin, [_ints([row[k] for row in flat]) for k in range(width)]


def _away(load: Load, axis: Axis, people: list[int]) -> Ints:
    found = np.zeros((len(load.people), axis.slots), dtype=np.int32)
    for number, person in enumerate(people):
        for begin, end in load.people[person].away:
            # a slot is lost as soon as the absence touches it
            first = int(np.searchsorted(axis.wall, axis.tick(begin - STEP + 1)))
            last = axis.slot_at(end)
            found[number, first:last] = np.maximum(found[number, first:last], last)
    return found


def _keep(load: Load, axis: Axis) -> tuple[Ints, Ints]:
    families = max(len(load.setups), 1)
    keep = np.zeros((families, axis.slots), dtype=np.int32)
    stretches = int(axis.period[-1]) + 1
    first = np.full((families, stretches), axis.slots, dtype=np.int32)
    for number, setup in enumerate(load.setups.values()):
        keep[number] = axis.period if setup.keeps == "period" else axis.day
        _, begin = np.unique(keep[number], return_index=True)
        first[number, : len(begin)] = begin
    return keep, first


def _tail(visit: VisitTasks) -> list[int]:
    """Least ticks from the end of each task to the end of the visit."""
    tail = [0] * len(visit.tasks)
    for task in range(len(visit.tasks) - 1, -1, -1):
        _relax(visit, task, tail)
    return tail


def _relax(visit: VisitTasks, task: int, tail: list[int]) -> None:
    for before, least, _ in visit.before[task]:
        reach = tail[task] + visit.tasks[task].minutes // STEP + least
        if reach > tail[before]:
            tail[before] = reach
            _relax(visit, before, tail)


def people_order(load: Load) -> list[int]:
    """Numbers of the people in the order of the arrays: those with fewest skills first."""
    return sorted(range(len(load.people)), key=lambda k: (len(load.people[k].skills), k))


def _able(load: Load, visits: list[VisitTasks], people: list[int]) -> tuple[Ints, list[list[int]]]:
    """(who can do which operation, operation of each task by visit)."""
    able: list[list[int]] = []
    numbers: list[list[int]] = []
    for visit in visits:
        numbers.append([])
        for task in visit.tasks:
            if task.piece == 1:
                skill = task.operation.skill
                able.append([int(skill is None or skill in load.people[p].skills) for p in people])
            numbers[-1].append(len(able) - 1)
    return _ints(able).reshape(len(able), len(load.people)), numbers


def _peers(visit: VisitTasks, offset: int) -> list[list[tuple[int, ...]]]:
    found: list[list[tuple[int, ...]]] = []
    for a, one in enumerate(visit.tasks):
        rows: list[tuple[int, ...]] = []
        for b, other in enumerate(visit.tasks):
            apart = a == b or one.ghost or other.ghost or visit.reach[a] >> b & 1 or visit.reach[b] >> a & 1
            name = visit.visit.id
            if not apart and (one.operation.object or name) == (other.operation.object or name):
                rows.append((b + offset,))
        found.append(rows)
    return found


def _shifted(task: int, offset: int) -> int:
    return -1 if task < 0 else task + offset


def _bans_and_closes(visit: VisitTasks, offset: int) -> tuple[list[list[tuple[int, ...]]], ...]:
    bans: list[list[tuple[int, ...]]] = [[] for _ in visit.tasks]
    closes: list[list[tuple[int, ...]]] = [[] for _ in visit.tasks]
    wary: list[list[tuple[int, ...]]] = [[] for _ in visit.tasks]
    for first, last, until in visit.holds:
        at = last if until < 0 else until
        closes[at].append((first + offset, last + offset, -1))
    for ban in visit.bans:
        kept, first, last, until = ban
        if not matters(visit, ban):
            continue
        bans[kept].append((first + offset, last + offset, -1 if until < 0 else until + offset))
        at = last if until < 0 else until
        closes[at].append((first + offset, last + offset, kept + offset))
        if not visit.reach[first] >> kept & 1:
            wary[first].append((kept + offset,))
    return bans, closes, wary


def first_day(load: Load) -> int:
    """Day number at which the axis of a load begins: nothing that matters lies before it."""
    moments = [load.now]
    for visit in load.visits:
        for one in visit.operations:
            if one.state == "started" and one.started_at is not None:
                moments.append(one.started_at)
    return min(moments) // DAY


def last_day(load: Load) -> int:
    """Day number after which the calendar has nothing but its weekly hours."""
    moments = [load.now, *(v.promise for v in load.visits), *(v.arrives for v in load.visits)]
    moments += [end for person in load.people for _, end in person.away]
    moments += [end for _, end in load.evenings]
    moments += [one.fixed_start for v in load.visits for one in v.operations if one.fixed_start is not None]
    return max([*(m // DAY for m in moments), *load.closed])


def _days(load: Load) -> int:
    """Days that surely hold the plan of a load without much lateness; doubled where they do not."""
    work = sum(o.minutes for v in load.visits for o in v.operations if o.state != "done")
    week = sum(b - a for hours in load.bench_hours.values() for a, b in hours)
    weeks = work * 1.3 / max(week, STEP) / max(1, len(load.people))
    return last_day(load) - first_day(load) + 22 + round(7 * weeks)


def _task_columns(visits: list[VisitTasks], numbers: list[list[int]], load: Load) -> dict[str, list[int]]:
    places, families = list(load.places), list(load.setups)
    columns: dict[str, list[int]] = {
        k: []
        for k in ("length", "operation", "visit", "ghost", "cut", "place", "holds", "family", "fixed_person")
    }
    people = {load.people[p].name: k for k, p in enumerate(people_order(load))}
    for number, visit in enumerate(visits):
        for at, task in enumerate(visit.tasks):
            one = task.operation
            first = task.piece == 1
            columns["length"].append(task.minutes // STEP)
            columns["operation"].append(numbers[number][at])
            columns["visit"].append(number)
            columns["ghost"].append(int(task.ghost))
            columns["cut"].append(int(one.interruptible))
            columns["holds"].append(int(any(hold[0] == at for hold in visit.holds)))
            columns["place"].append(places.index(one.place) if first and one.place is not None else -1)
            columns["family"].append(families.index(one.family) if one.family is not None else -1)
            columns["fixed_person"].append(people[one.fixed_person] if one.fixed_person is not None else -1)
    return columns


def _item_columns(visits: list[VisitTasks], offsets: list[int]) -> dict[str, Ints]:
    """What is placed in one go, and what must be placed before it."""
    lists: list[list[tuple[int, ...]]] = []
    later: list[list[tuple[int, ...]]] = []
    waits: list[int] = []
    owner: list[int] = []
    for number, visit in enumerate(visits):
        first = len(lists)
        item_of = {task: first + k for k, tasks in enumerate(visit.items) for task in tasks}
        between = sorted({(item_of[a], item_of[b]) for a, b in visit.arcs if item_of[a] != item_of[b]})
        for k, tasks in enumerate(visit.items):
            lists.append([(task + offsets[number],) for task in tasks])
            later.append([(b,) for a, b in between if a == first + k])
            waits.append(sum(1 for _, b in between if b == first + k))
            owner.append(number)
    item_from, item_task = _rows(lists, 1)
    owner_of = np.zeros(len(item_task[0]), dtype=np.int32)
    owner_of[item_task[0]] = np.repeat(np.arange(len(lists)), np.diff(item_from))
    next_from, next_item = _rows(later, 1)
    return {
        "item_from": item_from,
        "item_task": item_task[0],
        "item_visit": _ints(owner),
        "item_of": owner_of,
        "item_waits": _ints(waits),
        "next_from": next_from,
        "next_item": next_item[0],
    }


def _row_columns(visits: list[VisitTasks], offsets: list[int]) -> dict[str, Ints]:
    """Waits, tasks on one object, kept-out windows and holds, as rows by task."""
    before: list[list[tuple[int, ...]]] = []
    peers, bans, closes, wary = [], [], [], []
    for visit, offset in zip(visits, offsets, strict=False):
        before += [[(b + offset, least, most) for b, least, most in rows] for rows in visit.before]
        peers += _peers(visit, offset)
        more_bans, more_closes, more_wary = _bans_and_closes(visit, offset)
        bans += more_bans
        closes += more_closes
        wary += more_wary
    found: dict[str, Ints] = {}
    for lists, names in (
        (before, ("before_from", "before_task", "before_least", "before_most")),
        (peers, ("peer_from", "peer_task")),
        (bans, ("ban_from", "ban_task", "ban_end", "ban_until")),
        (closes, ("close_from", "close_task", "close_end", "close_kept")),
        (wary, ("wary_from", "wary_task")),
    ):
        begin, columns = _rows(lists, len(names) - 1)
        found.update(zip(names, [begin, *columns], strict=True))
    return found


def _tables(load: Load, axis: Axis, visits: list[VisitTasks], windows: list[Windows]) -> Tables:
    offsets = [0, *(int(k) for k in np.cumsum([len(v.tasks) for v in visits]))]
    people = people_order(load)
    able, numbers = _able(load, visits, people)
    columns = {k: _ints(v) for k, v in _task_columns(visits, numbers, load).items()}
    keep, keep_first = _keep(load, axis)
    setups = list(load.setups.values())
    tasks = offsets[-1]
    return Tables(
        wall=axis.wall,
        period_end=axis.period_end,
        next_slot=axis.next_slot,
        keep=keep,
        keep_first=keep_first,
        now=axis.slot_at(load.now),
        away=_away(load, axis, people),
        earliest=_ints([s for w in windows for s in w.earliest]),
        latest=_ints([s for w in windows for s in w.latest]),
        fixed=_ints([s for w in windows for s in w.fixed]),
        able=able,
        room=_ints(list(load.places.values()) or [0]),
        setup_length=_ints([s.minutes // STEP for s in setups] or [0]),
        setup_warm=_ints([-(-s.warm_minutes // STEP) for s in setups] or [0]),
        tail=_ints([t for v in visits for t in _tail(v)]),
        due=_ints([axis.tick(v.promise) for v in load.visits]),
        weight=np.array([v.weight * STEP for v in load.visits], dtype=np.float64),
        ready=_ints([w.ready for w in windows]),
        given=np.zeros((0, 4), dtype=np.int32),
        old_slot=np.full(tasks, -1, dtype=np.int32),
        old_person=np.full(tasks, -1, dtype=np.int32),
        price=np.zeros(tasks),
        **columns,
        **_row_columns(visits, offsets),
        **_item_columns(visits, offsets),
    )


def compile_load(load: Load, use_evenings: bool = False, stretch: int = 1) -> Compiled:
    """The arrays of a load.

    Parameters
    ----------
    load : Load
    use_evenings : bool
        Whether evenings count as open.
    stretch : int
        How many times the usual length the axis has.
    """
    axis = build_axis(load, first_day(load), _days(load) * stretch, use_evenings)
    visits = [visit_tasks(v) for v in load.visits]
    windows = [narrow(load, axis, v) for v in visits]
    offsets = [0, *(int(k) for k in np.cumsum([len(v.tasks) for v in visits]))]
    impossible = any(
        w.impossible or any(a > b for a, b in zip(w.earliest, w.latest, strict=True)) for w in windows
    )
    return Compiled(
        load,
        axis,
        tuple(visits),
        tuple(offsets),
        _tables(load, axis, visits, windows),
        tuple(windows),
        tuple(people_order(load)),
        impossible,
    )


def plan_of(compiled: Compiled, hands: Hands) -> Plan:
    """The placed hands as a plan with names and moments."""
    load, axis = compiled.load, compiled.axis
    names = [load.people[k].name for k in compiled.people_order]
    pieces = []
    for number, visit in enumerate(compiled.visits):
        for at, task in enumerate(visit.tasks):
            if task.ghost:
                continue
            number_of = compiled.first_task[number] + at
            slot, over = int(hands.start[number_of]), int(hands.end[number_of])
            person = names[int(hands.who[compiled.tables.operation[number_of]])]
            begin = axis.start_moment(slot)
            if (
                task.piece == 1
                and task.operation.started_at is not None
                and task.operation.state == "started"
            ):
                begin = task.operation.started_at
            end = axis.end_moment(over)
            pieces.append(Piece(visit.visit.id, task.operation.id, task.piece, person, begin, end))
    preparations = []
    for family, name in enumerate(load.setups):
        for stretch in range(hands.warm_end.shape[1]):
            if hands.warm_end[family, stretch] > 0:
                who = names[int(hands.warm_who[family, stretch])]
                begin = axis.start_moment(int(hands.warm_start[family, stretch]))
                preparations.append(Preparation(name, who, begin))
    preparations.sort(key=lambda one: (one.start, one.family))
    return Plan(tuple(pieces), tuple(preparations))
