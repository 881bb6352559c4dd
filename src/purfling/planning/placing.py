"""Placing one task: the first slot at which hands, object, place, windows and set-up all allow it."""

from typing import Any

from purfling.planning.compiled import compiled
from purfling.planning.state import (
    ABLE,
    BAN_END,
    BAN_FROM,
    BAN_TASK,
    BAN_UNTIL,
    BEFORE_FROM,
    BEFORE_LEAST,
    BEFORE_TASK,
    CUT,
    EARLIEST,
    FAMILY,
    FAR,
    FIXED_PERSON,
    H_BOUND,
    H_BUSY,
    H_END,
    H_FAR,
    H_OPEN,
    H_START,
    H_USED,
    H_WARM_END,
    H_WHO,
    HOLDS,
    KEEP,
    KEEP_FIRST,
    LENGTH,
    NOW,
    OPERATION,
    PEER_FROM,
    PEER_TASK,
    PEOPLE,
    PERIOD_END,
    PLACE,
    ROOM,
    SETUP_LENGTH,
    SETUP_WARM,
    SLOTS,
    STRETCHES,
    WALL,
    WARY_FROM,
    WARY_TASK,
    end_tick,
    slot_of,
)


@compiled
def hands_free(tables: Any, hands: Any, person: int, begin: int, end: int) -> int:
    """0 where a person is free in [begin, end), else the slot at which what stands in the way ends."""
    row = hands[H_BUSY] + person * tables[SLOTS]
    for slot in range(row + end - 1, row + begin - 1, -1):
        over: int = hands[slot]
        if over > 0:
            row = hands[H_BUSY] + person * tables[SLOTS]
            while over < tables[SLOTS] and hands[row + over] > 0:
                over = hands[row + over]
            return over
    return 0


@compiled
def object_free(tables: Any, hands: Any, task: int, begin: int, end: int) -> int:
    """0 where nobody works on the task's object in [begin, end), else when that work ends."""
    for row in range(tables[tables[PEER_FROM] + task], tables[tables[PEER_FROM] + task + 1]):
        peer = tables[tables[PEER_TASK] + row]
        if (
            hands[hands[H_START] + peer] >= 0
            and hands[hands[H_START] + peer] < end
            and hands[hands[H_END] + peer] > begin
        ):
            over: int = hands[hands[H_END] + peer]
            return over
    return 0


@compiled
def bans_clear(tables: Any, hands: Any, task: int, begin: int, end: int) -> int:
    """0 where the task keeps out of every banned window in [begin, end), else when the window ends."""
    for row in range(tables[tables[BAN_FROM] + task], tables[tables[BAN_FROM] + task + 1]):
        opens = hands[hands[H_START] + tables[tables[BAN_TASK] + row]]
        if opens < 0 or end <= opens:
            continue
        closes = hands[hands[H_END] + tables[tables[BAN_END] + row]]
        until = tables[tables[BAN_UNTIL] + row]
        if closes < 0 or (until >= 0 and hands[hands[H_START] + until] < 0):
            return FAR
        if until >= 0 and hands[hands[H_START] + until] > closes:
            closes = hands[hands[H_START] + until]
        if begin < closes:
            return int(closes)
    return 0


@compiled
def others_done(tables: Any, hands: Any, task: int, begin: int) -> int:
    """0 where everything that keeps out of the task's waiting time has ended by ``begin``, else its end."""
    for row in range(tables[tables[WARY_FROM] + task], tables[tables[WARY_FROM] + task + 1]):
        over: int = hands[hands[H_END] + tables[tables[WARY_TASK] + row]]
        if over > begin:
            return over
    return 0


@compiled
def room_free(tables: Any, hands: Any, place: int, begin: int, end: int) -> int:
    """0 where the place has room all through [begin, end), else the slot after the last full one.

    A hold whose end nobody knows yet counts as lasting for ever (FAR: wait until one of them ends).
    """
    row = hands[H_USED] + place * tables[SLOTS]
    room = tables[tables[ROOM] + place] - hands[hands[H_OPEN] + place]
    if room <= 0:
        return FAR
    for slot in range(end - 1, begin - 1, -1):
        if hands[row + slot] >= room:
            return slot + 1
    return 0


@compiled
def first_setup(tables: Any, hands: Any, family: int, begin: int) -> int:
    """First slot at or after ``begin`` at which somebody has the hands for a set-up."""
    length = tables[tables[SETUP_LENGTH] + family]
    best = FAR
    for person in range(tables[PEOPLE]):
        slot = begin
        while slot + length <= tables[SLOTS] and slot < best:
            if slot + length > tables[tables[PERIOD_END] + slot]:
                slot = tables[tables[PERIOD_END] + slot]
                continue
            over = hands_free(tables, hands, person, slot, slot + length)
            if over == 0:
                best = slot
                break
            slot = over
    return best


@compiled
def last_setup(tables: Any, hands: Any, family: int, slot: int) -> tuple[int, int]:
    """(slot, person) of the latest set-up that is warm when work begins at ``slot``; (-1, -1) for none."""
    stretch = tables[tables[KEEP] + family * tables[SLOTS] + slot]
    least = max(tables[tables[KEEP_FIRST] + family * tables[STRETCHES] + stretch], tables[NOW])
    length = tables[tables[SETUP_LENGTH] + family]
    ready_by = tables[tables[WALL] + slot] - tables[tables[SETUP_WARM] + family]
    best, who = -1, -1
    for person in range(tables[PEOPLE]):
        begin = slot - length
        while begin >= least and begin > best:
            if (
                end_tick(tables, begin + length) > ready_by
                or begin + length > tables[tables[PERIOD_END] + begin]
            ):
                begin -= 1
                continue
            if hands_free(tables, hands, person, begin, begin + length) == 0:
                best, who = begin, person
                break
            begin -= 1
    return best, who


@compiled
def warm_from(tables: Any, hands: Any, task: int, slot: int) -> int:
    """``slot`` where the task's set-up is or can be ready then, else a later slot that is worth a look."""
    family = tables[tables[FAMILY] + task]
    stretch = tables[tables[KEEP] + family * tables[SLOTS] + slot]
    made = hands[hands[H_WARM_END] + family * tables[STRETCHES] + stretch]
    if made > 0:
        return max(slot, slot_of(tables, end_tick(tables, made) + tables[tables[SETUP_WARM] + family]))
    if last_setup(tables, hands, family, slot)[0] >= 0:
        return slot
    least = max(tables[tables[KEEP_FIRST] + family * tables[STRETCHES] + stretch], tables[NOW])
    begin = first_setup(tables, hands, family, least)
    if begin == FAR:
        return FAR
    length = tables[tables[SETUP_LENGTH] + family]
    worth = slot_of(tables, end_tick(tables, begin + length) + tables[tables[SETUP_WARM] + family])
    if worth == FAR:
        return FAR
    return max(slot + 1, min(worth, slot_after(tables, family, slot)))


@compiled
def slot_after(tables: Any, family: int, slot: int) -> int:
    """First slot of the stretch after the one of ``slot``."""
    stretch = tables[tables[KEEP] + family * tables[SLOTS] + slot]
    if (
        stretch + 1 < tables[STRETCHES]
        and tables[tables[KEEP_FIRST] + family * tables[STRETCHES] + stretch + 1] > slot
    ):
        found: int = tables[tables[KEEP_FIRST] + family * tables[STRETCHES] + stretch + 1]
        return found
    return FAR


@compiled
def earliest_start(tables: Any, hands: Any, task: int, person: int, begin: int, limit: int) -> int:
    """First slot >= begin at which a person can do the task; FAR where there is none below ``limit``."""
    length = tables[tables[LENGTH] + task]
    slots = tables[SLOTS]
    whole = tables[tables[CUT] + task] == 0
    place = tables[tables[PLACE] + task]
    holds = tables[tables[HOLDS] + task] == 1
    banned = tables[tables[BAN_FROM] + task + 1] > tables[tables[BAN_FROM] + task]
    wary = tables[tables[WARY_FROM] + task + 1] > tables[tables[WARY_FROM] + task]
    slot = begin
    while slot < limit:
        end = slot + length
        if end > slots:
            return FAR
        if whole and end > tables[tables[PERIOD_END] + slot]:
            slot = tables[tables[PERIOD_END] + slot]
            continue
        over = hands_free(tables, hands, person, slot, end)
        if over == 0:
            over = object_free(tables, hands, task, slot, end)
        if over == 0 and place >= 0:
            last = max(end, hands[hands[H_FAR] + place]) if holds else end
            over = room_free(tables, hands, place, slot, last)
        if over == 0 and banned:
            over = bans_clear(tables, hands, task, slot, end)
        if over == 0 and wary:
            over = others_done(tables, hands, task, slot)
        if over == 0 and tables[tables[FAMILY] + task] >= 0:
            over = warm_from(tables, hands, task, slot)
            if over == slot:
                over = 0
        if over == 0:
            return slot
        slot = over
    return FAR


@compiled
def begin_of(tables: Any, hands: Any, task: int) -> int:
    """First slot that windows and waits allow a task."""
    begin = max(tables[tables[EARLIEST] + task], hands[hands[H_BOUND] + task])
    for row in range(tables[tables[BEFORE_FROM] + task], tables[tables[BEFORE_FROM] + task + 1]):
        over = hands[hands[H_END] + tables[tables[BEFORE_TASK] + row]]
        if over > 0:
            slot = slot_of(tables, end_tick(tables, over) + tables[tables[BEFORE_LEAST] + row])
            begin = max(begin, slot)
    return int(begin)


@compiled
def choose(tables: Any, hands: Any, task: int) -> tuple[int, int]:
    """(slot, person): the earliest start over everybody who can; (FAR, -1) where there is none."""
    begin = begin_of(tables, hands, task)
    operation = tables[tables[OPERATION] + task]
    if hands[hands[H_WHO] + operation] >= 0:
        person = hands[hands[H_WHO] + operation]
        return earliest_start(tables, hands, task, person, begin, FAR), person
    best, who = FAR, -1
    for person in range(tables[PEOPLE]):
        if tables[tables[ABLE] + operation * tables[PEOPLE] + person] == 0:
            continue
        if tables[tables[FIXED_PERSON] + task] >= 0 and tables[tables[FIXED_PERSON] + task] != person:
            continue
        slot = earliest_start(tables, hands, task, person, begin, best)
        if slot < best:
            best, who = slot, person
    return best, who
