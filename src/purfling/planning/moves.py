"""Neighbours of a set of keys.

A key is the wall-clock tick at which an item should begin for its visit to meet the promise, shifted by what
the search has learnt about the visit and the item; the smallest goes first.
"""

from typing import Any

import numpy as np

from purfling.planning.compiled import compiled
from purfling.planning.state import (
    ABLE,
    BEFORE_FROM,
    BEFORE_LEAST,
    BEFORE_TASK,
    EARLIEST,
    FIXED,
    H_END,
    H_START,
    H_WHO,
    ITEM_FROM,
    ITEM_OF,
    ITEM_TASK,
    ITEMS,
    OPERATION,
    PEOPLE,
    TASKS,
    VISITS,
    end_tick,
    slot_of,
)

# The longest shift [ticks]: three weeks; the shortest is one tick.
LONGEST = 6048.0


@compiled
def below(number: int) -> int:
    """A random whole number in [0, number)."""
    return int(np.random.random() * number)


@compiled
def stride() -> float:
    """A random shift [ticks], either way; each doubling of its size is as likely as any other."""
    size = np.exp(np.random.random() * np.log(LONGEST))
    return float(size) if np.random.random() < 0.5 else -float(size)


@compiled
def pick_visit(tables: Any, costs: Any, ready: Any, due: Any) -> int:
    """A visit, a late one more often."""
    visits = tables[VISITS]
    if np.random.random() < 0.5:
        return below(visits)
    total = 0.0
    for visit in range(visits):
        total += costs[visit] * max(0, ready[visit] - due[visit])
    aim = np.random.random() * total
    for visit in range(visits):
        aim -= costs[visit] * max(0, ready[visit] - due[visit])
        if aim < 0:
            return visit
    return below(visits)


@compiled
def shift(keys: Any, begin: int, end: int, by: float) -> None:
    """Shift keys[begin:end]."""
    for item in range(begin, end):
        keys[item] += by


@compiled
def before_it(tables: Any, hands: Any, task: int, begin: int) -> int:
    """The task begun before slot ``begin`` and not over then, which keeps hands from ``task``; -1: none."""
    able = tables[ABLE] + tables[tables[OPERATION] + task] * tables[PEOPLE]
    aim = below(tables[TASKS])
    for k in range(tables[TASKS]):
        other: int = (aim + k) % tables[TASKS]
        start = hands[hands[H_START] + other]
        if start < begin < hands[hands[H_END] + other] and tables[tables[FIXED] + other] < 0:
            who = hands[hands[H_WHO] + tables[tables[OPERATION] + other]]
            if tables[able + who] == 1:
                return other
    return -1


@compiled
def hold_back(tables: Any, hands: Any, item: int, ways: Any) -> bool:
    """Let what keeps hands from an item begin only when the item could; False where nothing does."""
    task = tables[tables[ITEM_TASK] + tables[tables[ITEM_FROM] + item]]
    begin = tables[tables[EARLIEST] + task]
    for row in range(tables[tables[BEFORE_FROM] + task], tables[tables[BEFORE_FROM] + task + 1]):
        over = hands[hands[H_END] + tables[tables[BEFORE_TASK] + row]]
        if over > 0:
            begin = max(begin, slot_of(tables, end_tick(tables, over) + tables[tables[BEFORE_LEAST] + row]))
    if begin >= hands[hands[H_START] + task]:
        return False
    other = before_it(tables, hands, task, begin)
    if other < 0:
        return False
    ways[tables[ITEMS] + tables[tables[ITEM_OF] + other]] = begin
    return True


@compiled
def neighbour(
    tables: Any, costs: Any, hands: Any, ready: Any, due: Any, first_item: Any, trial: Any, ways: Any
) -> bool:
    """Change ``trial`` (keys) or ``ways`` into a neighbour; False where nothing was changed."""
    visit = pick_visit(tables, costs, ready, due)
    begin, end = first_item[visit], first_item[visit + 1]
    if begin == end:
        return False
    kind = np.random.random()
    by = stride()
    item = begin + below(end - begin)
    if kind < 0.4:
        shift(trial, begin, end, by)
        if kind < 0.1:
            other = below(tables[VISITS])
            shift(trial, first_item[other], first_item[other + 1], -by)
    elif kind < 0.55:
        shift(trial, item, end, by)
    elif kind < 0.8:
        shift(trial, item, min(end, item + 1 + below(3)), by)
    elif kind < 0.95:
        return hold_back(tables, hands, item, ways)
    else:
        ways[tables[ITEMS] + item] = 0
    return True
