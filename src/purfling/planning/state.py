"""The arrays that the inner loops read (tables) and write (hands), and small looks into them.

All times are slots of the compressed axis or ticks of five minutes; -1 stands for "none". For the loops every
table lies in ONE flat array whose first cells tell where each begins (``tables[tables[LENGTH] + task]``): a
loop that is handed dozens of arrays compiles for minutes and calls slowly.
"""

from dataclasses import dataclass
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from purfling.planning.compiled import compiled

Ints = NDArray[np.int32]
Floats = NDArray[np.float64]

FAR = 1 << 30


# First the sizes, then where each table begins.
(
    SLOTS,
    TICKS,
    PEOPLE,
    PLACES,
    TASKS,
    OPERATIONS,
    VISITS,
    ITEMS,
    FAMILIES,
    STRETCHES,
    GIVENS,
    NOW,
    PINNED,
) = range(13)
(
    WALL,
    PERIOD_END,
    NEXT_SLOT,
    KEEP,
    KEEP_FIRST,
    AWAY,
    LENGTH,
    OPERATION,
    VISIT,
    EARLIEST,
    LATEST,
    FIXED,
    FIXED_PERSON,
    GHOST,
    CUT,
    ABLE,
    PLACE,
    HOLDS,
    FAMILY,
    ROOM,
    SETUP_LENGTH,
    SETUP_WARM,
    BEFORE_FROM,
    BEFORE_TASK,
    BEFORE_LEAST,
    BEFORE_MOST,
    PEER_FROM,
    PEER_TASK,
    BAN_FROM,
    BAN_TASK,
    BAN_END,
    BAN_UNTIL,
    CLOSE_FROM,
    CLOSE_TASK,
    CLOSE_END,
    CLOSE_KEPT,
    WARY_FROM,
    WARY_TASK,
    TAIL,
    DUE,
    READY,
    ITEM_FROM,
    ITEM_TASK,
    ITEM_VISIT,
    ITEM_OF,
    ITEM_WAITS,
    NEXT_FROM,
    NEXT_ITEM,
    GIVEN,
    OLD_SLOT,
    OLD_PERSON,
) = range(13, 64)
_TABLES = (
    "wall",
    "period_end",
    "next_slot",
    "keep",
    "keep_first",
    "away",
    "length",
    "operation",
    "visit",
    "earliest",
    "latest",
    "fixed",
    "fixed_person",
    "ghost",
    "cut",
    "able",
    "place",
    "holds",
    "family",
    "room",
    "setup_length",
    "setup_warm",
    "before_from",
    "before_task",
    "before_least",
    "before_most",
    "peer_from",
    "peer_task",
    "ban_from",
    "ban_task",
    "ban_end",
    "ban_until",
    "close_from",
    "close_task",
    "close_end",
    "close_kept",
    "wary_from",
    "wary_task",
    "tail",
    "due",
    "ready",
    "item_from",
    "item_task",
    "item_visit",
    "item_of",
    "item_waits",
    "next_from",
    "next_item",
    "given",
    "old_slot",
    "old_person",
)
# Where each array of the hands begins.
(
    H_BUSY,
    H_USED,
    H_OPEN,
    H_FAR,
    H_START,
    H_END,
    H_WHO,
    H_WARM_END,
    H_WARM_START,
    H_WARM_WHO,
    H_WARM_TASK,
    H_BOUND,
    H_KEPT,
    H_READY,
    H_WAITS,
) = range(15)
HEAD = 15


class Tables(NamedTuple):
    """A load as arrays. Tasks are pieces of operations; items are what is placed in one go."""

    wall: Ints  # [slots] tick at which a slot begins
    period_end: Ints  # [slots] first slot after the bench period
    next_slot: Ints  # [ticks] first slot at or after a tick
    keep: Ints  # [families, slots] running number of the stretch that a set-up is kept for
    keep_first: Ints  # [families, stretches] first slot of the stretch
    now: int  # first slot that may still be used
    away: Ints  # [people, slots] 0 or the slot at which the absence ends
    length: Ints  # [tasks] slots
    operation: Ints  # [tasks]
    visit: Ints  # [tasks]
    earliest: Ints  # [tasks] first slot allowed
    latest: Ints  # [tasks] last slot allowed, or FAR
    fixed: Ints  # [tasks] slot of an appointment, of started or done work, or -1
    fixed_person: Ints  # [tasks] person of it, or -1
    ghost: Ints  # [tasks] 1: done work that still holds a place
    cut: Ints  # [tasks] 1: may be cut by closing times
    able: Ints  # [operations, people] 1: has the skill
    place: Ints  # [tasks] place or -1
    holds: Ints  # [tasks] 1: its place is held beyond its own end
    family: Ints  # [tasks] family or -1
    room: Ints  # [places] how many
    setup_length: Ints  # [families] slots
    setup_warm: Ints  # [families] ticks
    before_from: Ints  # [tasks + 1] rows of before_*
    before_task: Ints
    before_least: Ints  # ticks
    before_most: Ints  # ticks or -1
    peer_from: Ints  # [tasks + 1] tasks on the same object that no wait keeps apart
    peer_task: Ints
    ban_from: Ints  # [tasks + 1] windows that a task keeps out of
    ban_task: Ints  # task y
    ban_end: Ints  # last piece of y
    ban_until: Ints  # its until or -1
    close_from: Ints  # [tasks + 1] holders and banned windows that end when this task starts
    close_task: Ints  # first piece of y
    close_end: Ints  # last piece of y
    close_kept: Ints  # task x kept out, or -1: the place of y is held
    tail: Ints  # [tasks] least ticks from the end of the task to the end of the visit
    due: Ints  # [visits] tick
    weight: Floats  # [visits] cost of a tick late
    ready: Ints  # [visits] tick below which the visit is not ready
    wary_from: Ints  # [tasks + 1] tasks x that must have ended when this task (y) starts
    wary_task: Ints
    item_from: Ints  # [items + 1] tasks of an item
    item_task: Ints
    item_visit: Ints  # [items]
    item_of: Ints  # [tasks] item of a task
    item_waits: Ints  # [items] how many items must be placed before it
    next_from: Ints  # [items + 1] items that wait for an item
    next_item: Ints
    given: Ints  # [rows, 4] set-ups of the plan before: family, stretch, slot, person
    old_slot: Ints  # [tasks] slot in the plan before, or -1
    old_person: Ints  # [tasks]
    price: Floats  # [tasks] cost of moving it


def pack(tables: Tables) -> tuple[Ints, Floats]:
    """(every table in one flat array, cost of a tick late by visit then price of moving by task)."""
    sizes = {
        "SLOTS": len(tables.wall),
        "TICKS": len(tables.next_slot),
        "PEOPLE": len(tables.away),
        "PLACES": len(tables.room),
        "TASKS": len(tables.length),
        "OPERATIONS": len(tables.able),
        "VISITS": len(tables.due),
        "ITEMS": len(tables.item_visit),
        "FAMILIES": tables.keep_first.shape[0],
        "STRETCHES": tables.keep_first.shape[1],
        "GIVENS": len(tables.given),
        "NOW": tables.now,
        "PINNED": int((tables.fixed >= 0).any() or (tables.old_slot >= 0).any()),
    }
    parts = [np.asarray(getattr(tables, name), dtype=np.int32).ravel() for name in _TABLES]
    first = len(sizes) + len(parts)
    begins = first + np.concatenate(([0], np.cumsum([len(p) for p in parts])))[:-1]
    header = np.array([*sizes.values(), *begins], dtype=np.int32)
    return np.concatenate([header, *parts]).astype(np.int32), np.concatenate([tables.weight, tables.price])


@compiled
def copy_into(source: Any, target: Any) -> None:
    """Copy one flat array into another of the same length."""
    for at in range(source.shape[0]):
        target[at] = source[at]


@compiled
def end_tick(tables: Any, slot: int) -> int:
    """Tick at which work ends that fills up to ``slot``."""
    tick: int = tables[tables[WALL] + slot - 1] + 1
    return tick


@compiled
def slot_of(tables: Any, tick: int) -> int:
    """First slot at or after a tick; FAR beyond the axis."""
    if tick <= 0:
        return 0
    if tick >= tables[TICKS]:
        return FAR
    slot: int = tables[tables[NEXT_SLOT] + tick]
    if slot >= tables[SLOTS]:
        return FAR
    return slot


@dataclass(frozen=True)
class Hands:
    """What has been placed: views into the flat array ``cells`` of the loops.

    ``start``, ``end`` [tasks]: slots or -1; ``who`` [operations]; ``warm_*`` [families, stretches]:
    the set-ups, ``warm_end`` 0 for none; ``ready`` [visits]: tick.
    """

    cells: Ints
    start: Ints
    end: Ints
    who: Ints
    warm_end: Ints
    warm_start: Ints
    warm_who: Ints
    ready: Ints


def view(tables: Tables, cells: Ints) -> Hands:
    """The named views of a flat array of hands."""
    shape = tables.keep_first.shape
    tasks, stretches = len(tables.length), shape[0] * shape[1]

    def part(where: int, size: int) -> Ints:
        return cells[cells[where] : cells[where] + size]

    return Hands(
        cells,
        part(H_START, tasks),
        part(H_END, tasks),
        part(H_WHO, len(tables.able)),
        part(H_WARM_END, stretches).reshape(shape),
        part(H_WARM_START, stretches).reshape(shape),
        part(H_WARM_WHO, stretches).reshape(shape),
        part(H_READY, len(tables.due)),
    )


def blank(tables: Tables) -> Ints:
    """A flat array of hands with nothing placed but the absences."""
    slots = tables.away.shape[1]
    tasks = len(tables.length)
    stretches = tables.keep_first.shape[0] * tables.keep_first.shape[1]
    parts = [
        tables.away.ravel(),
        np.zeros(len(tables.room) * slots),
        np.zeros(len(tables.room)),
        np.zeros(len(tables.room)),
        np.full(tasks, -1),
        np.full(tasks, -1),
        np.full(len(tables.able), -1),
        np.zeros(stretches),
        np.zeros(stretches),
        np.zeros(stretches),
        np.full(stretches, -1),
        np.zeros(tasks),
        np.zeros(tasks),
        tables.ready,
        tables.item_waits,
    ]
    begins = HEAD + np.concatenate(([0], np.cumsum([len(p) for p in parts])))[:-1]
    return np.concatenate([begins, *parts]).astype(np.int32)
