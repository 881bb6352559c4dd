"""The dispatch: walking through the open slots, free hands take the most urgent work that can begin now."""

from typing import Any

from purfling.planning.compiled import compiled
from purfling.planning.insertion import place_item, reserve
from purfling.planning.placing import begin_of
from purfling.planning.sequence import NEVER, cost_of, count
from purfling.planning.state import (
    CLOSE_FROM,
    FAR,
    FIXED,
    H_BUSY,
    H_START,
    H_WAITS,
    ITEM_FROM,
    ITEM_TASK,
    ITEMS,
    NEXT_FROM,
    NEXT_ITEM,
    NOW,
    OLD_SLOT,
    PEOPLE,
    PINNED,
    SLOTS,
)


@compiled
def rest(tables: Any, queue: Any, item: int, slot: int) -> None:
    """Let an item sleep until a slot (FAR: until a hold or a window ends)."""
    place = 2 * tables[ITEMS] + min(slot, tables[SLOTS])
    queue[tables[ITEMS] + item] = queue[place]
    queue[place] = item


@compiled
def wake_up(tables: Any, queue: Any, many: int, keys: Any, slot: int) -> int:
    """Put everything that sleeps until ``slot`` into the line; how many stand in it."""
    place = 2 * tables[ITEMS] + slot
    item = queue[place]
    queue[place] = -1
    while item >= 0:
        key = keys[item]
        at = many
        while at > 0 and keys[queue[at - 1]] < key:
            queue[at] = queue[at - 1]
            at -= 1
        queue[at] = item
        many += 1
        item = queue[tables[ITEMS] + item]
    return many


@compiled
def join(tables: Any, hands: Any, queue: Any, item: int, floor: int, keep: int, back: int) -> None:
    """Let an item that waits for nothing but time sleep until it may begin."""
    task = tables[tables[ITEM_TASK] + tables[tables[ITEM_FROM] + item]]
    wake = max(floor, back, begin_of(tables, hands, task))
    if tables[tables[FIXED] + task] >= 0:
        wake = max(floor, tables[tables[FIXED] + task])
    elif keep == 1:
        wake = max(wake, tables[tables[OLD_SLOT] + task])
    rest(tables, queue, item, wake)


@compiled
def anybody_free(tables: Any, hands: Any, slot: int) -> bool:
    """Whether somebody's hands are free in a slot."""
    free = False
    for person in range(tables[PEOPLE]):
        free = free or hands[hands[H_BUSY] + person * tables[SLOTS] + slot] == 0
    return free


@compiled
def next_free(tables: Any, hands: Any, slot: int) -> int:
    """First slot from ``slot`` on in which somebody's hands are free."""
    best = FAR
    for person in range(tables[PEOPLE]):
        row = hands[H_BUSY] + person * tables[SLOTS]
        at = slot
        while at < tables[SLOTS] and at < best and hands[row + at] > 0:
            at = hands[row + at]
        best = min(best, at)
    return best


@compiled
def frees(tables: Any, item: int) -> bool:
    """Whether placing an item may end a hold or a banned window."""
    for at in range(tables[tables[ITEM_FROM] + item], tables[tables[ITEM_FROM] + item + 1]):
        task = tables[tables[ITEM_TASK] + at]
        if tables[tables[CLOSE_FROM] + task + 1] > tables[tables[CLOSE_FROM] + task]:
            return True
    return False


@compiled
def begin_queue(tables: Any, hands: Any, queue: Any, ways: Any) -> None:
    """An empty line, and everything that waits for nothing but time asleep."""
    for at in range(2 * tables[ITEMS], 2 * tables[ITEMS] + tables[SLOTS] + 1):
        queue[at] = -1
    for item in range(tables[ITEMS]):
        if ways[item] == 1:
            for at in range(tables[tables[ITEM_FROM] + item], tables[tables[ITEM_FROM] + item + 1]):
                reserve(tables, hands, tables[tables[ITEM_TASK] + at])
    for item in range(tables[ITEMS]):
        if hands[hands[H_WAITS] + item] == 0:
            join(tables, hands, queue, item, tables[NOW], ways[item], ways[tables[ITEMS] + item])


@compiled
def stays(tables: Any, item: int, keep: int, slot: int) -> bool:
    """Whether an item has hands of its own at a slot: an appointment, or kept from the plan before."""
    task = tables[tables[ITEM_TASK] + tables[tables[ITEM_FROM] + item]]
    if tables[tables[FIXED] + task] >= 0:
        return True
    return keep == 1 and tables[tables[OLD_SLOT] + task] == slot


@compiled
def follow(tables: Any, hands: Any, queue: Any, item: int, slot: int, ways: Any) -> None:
    """Let what waited for an item sleep until it may begin."""
    for row in range(tables[tables[NEXT_FROM] + item], tables[tables[NEXT_FROM] + item + 1]):
        later = tables[tables[NEXT_ITEM] + row]
        hands[hands[H_WAITS] + later] -= 1
        if hands[hands[H_WAITS] + later] == 0:
            join(tables, hands, queue, later, slot, ways[later], ways[tables[ITEMS] + later])


@compiled
def pass_through(
    tables: Any,
    costs: Any,
    hands: Any,
    sums: Any,
    queue: Any,
    many: int,
    keys: Any,
    ways: Any,
    slot: int,
    limit: float,
) -> int:
    """Place what can begin at ``slot``, the last in line first; how many are left, -1 past the limit."""
    many = wake_up(tables, queue, many, keys, slot)
    at = many - 1
    full = not anybody_free(tables, hands, slot)
    while at >= 0:
        item = queue[at]
        if full and not stays(tables, item, ways[item], slot):
            if tables[PINNED] == 0:
                break
            at -= 1
            continue
        wake = place_item(tables, hands, item, slot, ways[item])
        many -= 1
        for k in range(at, many):
            queue[k] = queue[k + 1]
        at -= 1
        if wake > 0:
            rest(tables, queue, item, max(wake, slot + 1))
            continue
        count(tables, costs, hands, sums, item)
        if cost_of(sums) > limit:
            return -1
        follow(tables, hands, queue, item, slot, ways)
        if frees(tables, item):
            many = wake_up(tables, queue, many, keys, tables[SLOTS])
            at = many - 1
        before = many
        many = wake_up(tables, queue, many, keys, slot)
        if many > before:
            at = many - 1
        full = not anybody_free(tables, hands, slot)
    return many


@compiled
def dispatch(
    tables: Any,
    costs: Any,
    hands: Any,
    sums: Any,
    queue: Any,
    keys: Any,
    ways: Any,
    limit: float,
) -> float:
    """A whole plan from the keys of the items (the smallest first); NEVER where it fails or passes ``limit``.

    ``hands`` and ``sums`` hold the first day's state; ``queue`` is scratch of 2 items + slots + 1 cells: the
    line of what could begin, most urgent last; links between sleepers; who sleeps until which slot.
    ``ways``: for each item 1 where it stays as the plan before had it, if it can; then for each the first
    slot at which it may begin (hands may rather wait for more urgent work).
    """
    begin_queue(tables, hands, queue, ways)
    slot, many = tables[NOW], 0
    left = tables[ITEMS]
    while slot < tables[SLOTS]:
        many = pass_through(tables, costs, hands, sums, queue, many, keys, ways, slot, limit)
        if many < 0:
            return NEVER
        aim = next_free(tables, hands, slot + 1) if many > 0 else tables[SLOTS]
        slot += 1
        while slot < aim and slot < tables[SLOTS] and queue[2 * tables[ITEMS] + slot] < 0:
            slot += 1
    for item in range(left):
        if hands[hands[H_START] + tables[tables[ITEM_TASK] + tables[tables[ITEM_FROM] + item]]] < 0:
            return NEVER
    if many > 0 or queue[2 * tables[ITEMS] + tables[SLOTS]] >= 0:
        return NEVER
    return cost_of(sums)
