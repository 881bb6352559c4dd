"""Windows of time: first and last slot at which each task may start, before anybody's hands are counted."""

from dataclasses import dataclass

import numpy as np

from purfling.planning.axis import Axis
from purfling.planning.graph import topological
from purfling.planning.load import STEP, Load
from purfling.planning.pieces import VisitTasks
from purfling.planning.state import FAR


@dataclass
class Windows:
    """Of one visit: ``earliest``, ``latest`` and ``fixed`` by task, ``ready`` [tick] no earlier than which.

    ``impossible`` holds (operation id, demand) of appointments that no slot begins at.
    """

    earliest: list[int]
    latest: list[int]
    fixed: list[int]
    ready: int
    impossible: list[tuple[str, str]]


def fitting(axis: Axis, slot: int, length: int, whole: bool) -> int:
    """First slot >= ``slot`` at which work of ``length`` slots lies in one bench period (where it must)."""
    while whole and slot < axis.slots and slot + length > axis.period_end[slot]:
        slot = int(axis.period_end[slot])
    return slot


def fitting_before(axis: Axis, slot: int, length: int, whole: bool) -> int:
    """Last slot <= ``slot`` at which work of ``length`` slots lies in one bench period; -1 for none."""
    slot = min(slot, axis.slots - length)
    while whole and slot >= 0 and slot + length > axis.period_end[slot]:
        slot = min(slot - 1, int(axis.period_end[slot]) - length)
    return max(slot, -1)


def end_of(axis: Axis, slot: int, length: int) -> int:
    """Tick at which work of ``length`` slots from ``slot`` ends."""
    return int(axis.wall[min(slot + length, axis.slots) - 1]) + 1


def last_ending(axis: Axis, tick: int, length: int) -> int:
    """Last slot from which work of ``length`` slots has ended by a tick."""
    return int(np.searchsorted(axis.wall, tick - 1, side="right")) - length


def slot_at_tick(axis: Axis, tick: int) -> int:
    """First slot at or after a tick; the number of slots where there is none."""
    if tick >= len(axis.next_slot):
        return axis.slots
    return int(axis.next_slot[max(tick, 0)])


def _own(load: Load, axis: Axis, visit: VisitTasks) -> Windows:
    now = axis.slot_at(load.now)
    begin = max(now, axis.slot_at(visit.visit.arrives))
    count = len(visit.tasks)
    found = Windows([begin] * count, [FAR] * count, [-1] * count, 0, [])
    for number, task in enumerate(visit.tasks):
        one = task.operation
        if task.ghost:
            found.fixed[number] = found.earliest[number] = found.latest[number] = now
        elif task.piece == 1 and one.state == "started" and one.started_at is not None:
            slot = axis.slot_at(one.started_at)
            found.fixed[number] = found.earliest[number] = found.latest[number] = slot
        elif task.piece == 1 and one.fixed_start is not None:
            slot = axis.slot_at(one.fixed_start)
            if one.fixed_start < load.now or not axis.is_open(one.fixed_start):
                found.impossible.append((one.id, "fixed"))
            found.fixed[number] = slot
            found.earliest[number] = max(begin, slot)
            found.latest[number] = slot
        if task.piece == 1 and one.state == "open":
            _after_done(axis, visit, number, found)
    return found


def _after_done(axis: Axis, visit: VisitTasks, number: int, found: Windows) -> None:
    """Waits after work that is done."""
    for wait in visit.tasks[number].operation.after:
        before = visit.visit.operation(wait.id)
        if before.state != "done" or before.ended_at is None:
            continue
        tick = axis.tick(before.ended_at + wait.wait_min)
        found.earliest[number] = max(found.earliest[number], slot_at_tick(axis, tick))
        if wait.wait_max is not None:
            most = (before.ended_at + wait.wait_max - axis.origin) // STEP
            last = int(np.searchsorted(axis.wall, most, side="right")) - 1
            found.latest[number] = min(found.latest[number], last)


def _forward(axis: Axis, visit: VisitTasks, found: Windows, order: list[int]) -> None:
    for number in order:
        task = visit.tasks[number]
        begin = found.earliest[number]
        for before, least, _ in visit.before[number]:
            length = visit.tasks[before].minutes // STEP
            if found.earliest[before] >= axis.slots:
                begin = axis.slots
                continue
            begin = max(begin, slot_at_tick(axis, end_of(axis, found.earliest[before], length) + least))
        if found.fixed[number] < 0 or task.operation.state == "open":
            begin = fitting(axis, begin, task.minutes // STEP, not task.operation.interruptible)
        found.earliest[number] = begin
        for before, _, most in visit.before[number]:
            if most >= 0 and begin < axis.slots:
                length = visit.tasks[before].minutes // STEP
                least_end = slot_at_tick(axis, int(axis.wall[begin]) - most - 1) + 1
                found.earliest[before] = max(found.earliest[before], least_end - length)


def _backward(axis: Axis, visit: VisitTasks, found: Windows, order: list[int]) -> None:
    for number in reversed(order):
        task = visit.tasks[number]
        if found.fixed[number] < 0 and found.latest[number] < FAR:
            length = task.minutes // STEP
            whole = not task.operation.interruptible
            found.latest[number] = fitting_before(axis, found.latest[number], length, whole)
        if not 0 <= found.latest[number] < FAR:
            continue
        for before, least, _ in visit.before[number]:
            length = visit.tasks[before].minutes // STEP
            if found.fixed[before] >= 0:
                continue
            last = last_ending(axis, int(axis.wall[found.latest[number]]) - least, length)
            found.latest[before] = min(found.latest[before], last)
    for number in order:
        for before, _, most in visit.before[number]:
            if most < 0 or not 0 <= found.latest[before] < FAR or found.fixed[number] >= 0:
                continue
            tick = end_of(axis, found.latest[before], visit.tasks[before].minutes // STEP) + most
            last = int(np.searchsorted(axis.wall, tick, side="right")) - 1
            found.latest[number] = min(found.latest[number], last)


def narrow(load: Load, axis: Axis, visit: VisitTasks) -> Windows:
    """Windows of a visit's tasks from arrival, now, appointments, waits and bench periods."""
    found = _own(load, axis, visit)
    arcs = [(b, number) for number, rows in enumerate(visit.before) for b, _, _ in rows]
    order = topological(len(visit.tasks), arcs)
    tight = any(most >= 0 for rows in visit.before for _, _, most in rows)
    bounded = any(last < FAR for last in found.latest)
    for _ in range(1 + len(visit.tasks)):
        before = (list(found.earliest), list(found.latest))
        _forward(axis, visit, found, order)
        if tight or bounded:
            _backward(axis, visit, found, order)
        if not (tight or bounded) or before == (found.earliest, found.latest):
            break
    ticks = [axis.tick(o.ended_at) for o in visit.visit.operations if o.ended_at is not None]
    for number, task in enumerate(visit.tasks):
        if not task.ghost and found.earliest[number] < axis.slots:
            ticks.append(end_of(axis, found.earliest[number], task.minutes // STEP))
    found.ready = max(ticks, default=axis.tick(visit.visit.arrives))
    return found
