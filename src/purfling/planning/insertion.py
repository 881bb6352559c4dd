"""Placing one item: its tasks in order, stepping back where a wait, a hold or a banned window fails."""

from typing import Any

from purfling.planning.compiled import compiled
from purfling.planning.placing import (
    bans_clear,
    begin_of,
    choose,
    earliest_start,
    hands_free,
    last_setup,
    object_free,
)
from purfling.planning.state import (
    BEFORE_FROM,
    BEFORE_MOST,
    BEFORE_TASK,
    CLOSE_END,
    CLOSE_FROM,
    CLOSE_KEPT,
    CLOSE_TASK,
    FAMILY,
    FAR,
    FIXED,
    GHOST,
    H_BOUND,
    H_BUSY,
    H_END,
    H_FAR,
    H_KEPT,
    H_OPEN,
    H_START,
    H_USED,
    H_WARM_END,
    H_WARM_START,
    H_WARM_TASK,
    H_WARM_WHO,
    H_WHO,
    HOLDS,
    ITEM_FROM,
    ITEM_TASK,
    KEEP,
    LATEST,
    LENGTH,
    NOW,
    OLD_PERSON,
    OLD_SLOT,
    OPERATION,
    PLACE,
    ROOM,
    SETUP_LENGTH,
    SLOTS,
    STRETCHES,
    TASKS,
    WALL,
    end_tick,
    slot_of,
)

MOST_STEPS = 400


@compiled
def fill(tables: Any, hands: Any, person: int, begin: int, end: int, value: int) -> None:
    """Write ``value`` into a person's slots [begin, end)."""
    for slot in range(begin, end):
        hands[hands[H_BUSY] + person * tables[SLOTS] + slot] = value


@compiled
def add_use(tables: Any, hands: Any, place: int, begin: int, end: int, amount: int) -> None:
    """Add to the use of a place in [begin, end)."""
    for slot in range(begin, end):
        hands[hands[H_USED] + place * tables[SLOTS] + slot] += amount
    hands[hands[H_FAR] + place] = max(hands[hands[H_FAR] + place], end)


@compiled
def reserve(tables: Any, hands: Any, task: int) -> None:
    """Keep the hands that the plan before gave to a task, where they are free."""
    slot, person = tables[tables[OLD_SLOT] + task], tables[tables[OLD_PERSON] + task]
    if slot < tables[NOW] or tables[tables[FIXED] + task] >= 0:
        return
    end = slot + tables[tables[LENGTH] + task]
    if hands_free(tables, hands, person, slot, end) == 0:
        fill(tables, hands, person, slot, end, end)
        hands[hands[H_KEPT] + task] = 1


@compiled
def unreserve(tables: Any, hands: Any, item: int) -> None:
    """Give back the hands kept for the tasks of an item."""
    for at in range(tables[tables[ITEM_FROM] + item], tables[tables[ITEM_FROM] + item + 1]):
        task = tables[tables[ITEM_TASK] + at]
        if hands[hands[H_KEPT] + task] == 1:
            slot = tables[tables[OLD_SLOT] + task]
            end = slot + tables[tables[LENGTH] + task]
            fill(tables, hands, tables[tables[OLD_PERSON] + task], slot, end, 0)
            hands[hands[H_KEPT] + task] = 0


@compiled
def release(tables: Any, hands: Any, task: int, amount: int) -> None:
    """Take (-1) or give back (1) the open holds that end when ``task`` starts."""
    for row in range(tables[tables[CLOSE_FROM] + task], tables[tables[CLOSE_FROM] + task + 1]):
        if tables[tables[CLOSE_KEPT] + row] < 0:
            place = tables[tables[PLACE] + tables[tables[CLOSE_TASK] + row]]
            hands[hands[H_OPEN] + place] += amount


@compiled
def hold(tables: Any, hands: Any, task: int, amount: int) -> None:
    """Write down (or take back) the holds that end with ``task``, now that their ends are known."""
    for row in range(tables[tables[CLOSE_FROM] + task], tables[tables[CLOSE_FROM] + task + 1]):
        if tables[tables[CLOSE_KEPT] + row] >= 0:
            continue
        first, last = tables[tables[CLOSE_TASK] + row], tables[tables[CLOSE_END] + row]
        begin = hands[hands[H_START] + first] + tables[tables[LENGTH] + first]
        end = max(hands[hands[H_START] + task], hands[hands[H_END] + last])
        place = tables[tables[PLACE] + first]
        add_use(tables, hands, place, begin, end, amount)


@compiled
def put_setup(tables: Any, hands: Any, task: int, slot: int) -> None:
    """Place the set-up that a task at ``slot`` needs, where none is made yet."""
    family = tables[tables[FAMILY] + task]
    warm = family * tables[STRETCHES] + tables[tables[KEEP] + family * tables[SLOTS] + slot]
    if hands[hands[H_WARM_END] + warm] > 0:
        return
    begin, who = last_setup(tables, hands, family, slot)
    if begin < 0:
        return
    over = begin + tables[tables[SETUP_LENGTH] + family]
    fill(tables, hands, who, begin, over, over)
    hands[hands[H_WARM_END] + warm] = over
    hands[hands[H_WARM_START] + warm] = begin
    hands[hands[H_WARM_WHO] + warm] = who
    hands[hands[H_WARM_TASK] + warm] = task


@compiled
def take_setup(tables: Any, hands: Any, task: int, slot: int) -> None:
    """Take the set-up out that was placed for a task at ``slot``."""
    family = tables[tables[FAMILY] + task]
    warm = family * tables[STRETCHES] + tables[tables[KEEP] + family * tables[SLOTS] + slot]
    if hands[hands[H_WARM_TASK] + warm] != task:
        return
    begin, over = hands[hands[H_WARM_START] + warm], hands[hands[H_WARM_END] + warm]
    fill(tables, hands, hands[hands[H_WARM_WHO] + warm], begin, over, 0)
    hands[hands[H_WARM_END] + warm] = 0
    hands[hands[H_WARM_TASK] + warm] = -1


@compiled
def put(tables: Any, hands: Any, task: int, slot: int, person: int) -> None:
    """Place a task (its open holds released before), its set-up, and the holds that begin or end with it."""
    end = slot + tables[tables[LENGTH] + task]
    if tables[tables[FIXED] + task] < 0:
        hands[hands[H_START] + task] = slot
        hands[hands[H_END] + task] = end
        hands[hands[H_WHO] + tables[tables[OPERATION] + task]] = person
        if tables[tables[FAMILY] + task] >= 0:
            put_setup(tables, hands, task, slot)
        fill(tables, hands, person, slot, end, end)
        if tables[tables[PLACE] + task] >= 0:
            add_use(tables, hands, tables[tables[PLACE] + task], slot, end, 1)
    hands[hands[H_OPEN] + tables[tables[PLACE] + task]] += tables[tables[HOLDS] + task]
    hold(tables, hands, task, 1)


@compiled
def take(tables: Any, hands: Any, task: int) -> None:
    """Take a task out again (those placed after it in the item are out already)."""
    hold(tables, hands, task, -1)
    release(tables, hands, task, 1)
    hands[hands[H_OPEN] + tables[tables[PLACE] + task]] -= tables[tables[HOLDS] + task]
    if tables[tables[FIXED] + task] >= 0:
        return
    slot, end = hands[hands[H_START] + task], hands[hands[H_END] + task]
    if tables[tables[PLACE] + task] >= 0:
        add_use(tables, hands, tables[tables[PLACE] + task], slot, end, -1)
    fill(tables, hands, hands[hands[H_WHO] + tables[tables[OPERATION] + task]], slot, end, 0)
    if tables[tables[FAMILY] + task] >= 0:
        take_setup(tables, hands, task, slot)
    hands[hands[H_START] + task] = -1
    hands[hands[H_END] + task] = -1


@compiled
def wait_fault(tables: Any, hands: Any, task: int, slot: int) -> tuple[int, int]:
    """(task, bound) of a forerunner that must start later for its longest wait to hold; (-1, 0) for none."""
    for row in range(tables[tables[BEFORE_FROM] + task], tables[tables[BEFORE_FROM] + task + 1]):
        most = tables[tables[BEFORE_MOST] + row]
        before = tables[tables[BEFORE_TASK] + row]
        over = hands[hands[H_END] + before]
        if most < 0 or over < 0:
            continue
        short = tables[tables[WALL] + slot] - most
        if end_tick(tables, over) < short:
            least = slot_of(tables, short - 1) + 1 - tables[tables[LENGTH] + before]
            return before, max(least, hands[hands[H_START] + before] + 1)
    return -1, 0


@compiled
def hold_fault(tables: Any, hands: Any, task: int, slot: int) -> tuple[int, int]:
    """(task, bound) of a task that must start later because its place is full before ``task`` at ``slot``."""
    for row in range(tables[tables[CLOSE_FROM] + task], tables[tables[CLOSE_FROM] + task + 1]):
        first = tables[tables[CLOSE_TASK] + row]
        if tables[tables[CLOSE_KEPT] + row] >= 0 or hands[hands[H_START] + first] < 0:
            continue
        end = max(slot, hands[hands[H_END] + tables[tables[CLOSE_END] + row]])
        if task == tables[tables[CLOSE_END] + row]:
            end = slot + tables[tables[LENGTH] + task]
        begin = hands[hands[H_START] + first] + tables[tables[LENGTH] + first]
        place = tables[tables[PLACE] + first]
        row_used = hands[H_USED] + place * tables[SLOTS]
        for at in range(end - 1, begin - 1, -1):
            if hands[row_used + at] >= tables[tables[ROOM] + place]:
                return first, at + 1
    return -1, 0


@compiled
def fixed_fits(tables: Any, hands: Any, task: int) -> bool:
    """Whether waits and windows of an appointment hold beside what has been placed (its hands are kept)."""
    slot = tables[tables[FIXED] + task]
    if tables[tables[GHOST] + task] == 1 or slot < tables[NOW]:
        return True
    if begin_of(tables, hands, task) > slot or slot > tables[tables[LATEST] + task]:
        return False
    end = slot + tables[tables[LENGTH] + task]
    if object_free(tables, hands, task, slot, end) > 0 or bans_clear(tables, hands, task, slot, end) > 0:
        return False
    return wait_fault(tables, hands, task, slot)[0] < 0


@compiled
def find_place(tables: Any, hands: Any, task: int, keep: int) -> tuple[int, int]:
    """(slot, person) for an open task: where the plan before had it if that goes, else the earliest."""
    slot = tables[tables[OLD_SLOT] + task]
    if keep == 1 and slot >= 0:
        person = tables[tables[OLD_PERSON] + task]
        who = hands[hands[H_WHO] + tables[tables[OPERATION] + task]]
        if (
            (who < 0 or who == person)
            and slot >= begin_of(tables, hands, task)
            and earliest_start(tables, hands, task, person, slot, slot + 1) == slot
        ):
            return slot, person
    return choose(tables, hands, task)


@compiled
def work_begin(tables: Any, hands: Any, task: int, slot: int) -> int:
    """When hands are first needed for a task at ``slot``: at its set-up, where that is still to be made."""
    family = tables[tables[FAMILY] + task]
    if family < 0:
        return slot
    warm = family * tables[STRETCHES] + tables[tables[KEEP] + family * tables[SLOTS] + slot]
    if hands[hands[H_WARM_END] + warm] > 0:
        return slot
    begin = last_setup(tables, hands, family, slot)[0]
    return slot if begin < 0 else min(slot, begin)


@compiled
def place_item(tables: Any, hands: Any, item: int, floor: int, keep: int) -> int:
    """Place the tasks of an item whose first work begins by slot ``floor``.

    Returns 0 where that was done, else the slot at which another look is worth it (FAR: none is known).
    ``keep`` 1: where the plan before had it, if that still goes; once it does not, it is placed anew.
    """
    if keep == 0:
        return place_tasks(tables, hands, item, floor, 0)
    unreserve(tables, hands, item)
    wake = place_tasks(tables, hands, item, floor, 1)
    first = tables[tables[ITEM_TASK] + tables[tables[ITEM_FROM] + item]]
    if 0 < wake <= tables[tables[OLD_SLOT] + first]:
        for at in range(tables[tables[ITEM_FROM] + item], tables[tables[ITEM_FROM] + item + 1]):
            reserve(tables, hands, tables[tables[ITEM_TASK] + at])
    return wake


@compiled
def place_tasks(tables: Any, hands: Any, item: int, floor: int, keep: int) -> int:
    """``place_item`` for an item whose hands are not kept."""
    first, last = tables[tables[ITEM_FROM] + item], tables[tables[ITEM_FROM] + item + 1]
    for at in range(first, last):
        hands[hands[H_BOUND] + tables[tables[ITEM_TASK] + at]] = floor
    at, steps = first, 0
    while at < last:
        task = tables[tables[ITEM_TASK] + at]
        release(tables, hands, task, -1)
        culprit, bound = -1, 0
        slot, person = tables[tables[FIXED] + task], -1
        if slot >= 0:
            fails = not fixed_fits(tables, hands, task) or (slot > floor and at == first)
            wake = slot if slot > floor else FAR
        else:
            slot, person = find_place(tables, hands, task, keep)
            fails = slot >= FAR or slot > tables[tables[LATEST] + task]
            wake = FAR
            if not fails and at == first:
                wake = work_begin(tables, hands, task, slot)
                fails = wake > floor
        if not fails:
            culprit, bound = wait_fault(tables, hands, task, slot)
            if culprit < 0:
                culprit, bound = hold_fault(tables, hands, task, slot)
            if culprit < 0:
                put(tables, hands, task, slot, person)
                at += 1
                continue
        release(tables, hands, task, 1)
        if fails:
            step_back(tables, hands, first, first, at)
            return wake
        steps += 1
        back = at - 1
        while back >= first and tables[tables[ITEM_TASK] + back] != culprit:
            back -= 1
        if back < first or steps > MOST_STEPS or tables[tables[FIXED] + culprit] >= 0:
            step_back(tables, hands, first, first, at)
            return FAR
        step_back(tables, hands, first, back, at)
        hands[hands[H_BOUND] + culprit] = bound
        if back == first and bound > floor:
            return bound
        at = back
    return 0


@compiled
def step_back(tables: Any, hands: Any, first: int, back: int, at: int) -> None:
    """Take out the tasks of an item from row ``back`` to ``at`` - 1, and who did them if nothing is left."""
    for row in range(at - 1, back - 1, -1):
        take(tables, hands, tables[tables[ITEM_TASK] + row])
    for row in range(back, at):
        operation = tables[tables[OPERATION] + tables[tables[ITEM_TASK] + row]]
        started = False
        task = operation_first(tables, row)
        while task < tables[TASKS] and tables[tables[OPERATION] + task] == operation:
            if hands[hands[H_START] + task] >= 0:
                started = True
            task += 1
        if not started:
            hands[hands[H_WHO] + operation] = -1


@compiled
def operation_first(tables: Any, row: int) -> int:
    """First task of the operation to which the task of an item's row belongs."""
    task: int = tables[tables[ITEM_TASK] + row]
    while task > 0 and tables[tables[OPERATION] + task - 1] == tables[tables[OPERATION] + task]:
        task -= 1
    return task
