"""From a sequence of items to a whole plan and its cost."""

from typing import Any

from purfling.planning.compiled import compiled
from purfling.planning.insertion import add_use, fill
from purfling.planning.placing import hands_free, last_setup
from purfling.planning.state import (
    ABLE,
    CUT,
    DUE,
    FAMILY,
    FIXED,
    FIXED_PERSON,
    GHOST,
    GIVEN,
    GIVENS,
    H_END,
    H_READY,
    H_START,
    H_USED,
    H_WARM_END,
    H_WARM_START,
    H_WARM_TASK,
    H_WARM_WHO,
    H_WHO,
    ITEM_FROM,
    ITEM_TASK,
    KEEP,
    LENGTH,
    NOW,
    OLD_PERSON,
    OLD_SLOT,
    OPERATION,
    PEOPLE,
    PERIOD_END,
    PLACE,
    READY,
    ROOM,
    SETUP_LENGTH,
    SETUP_WARM,
    SLOTS,
    STRETCHES,
    TAIL,
    TASKS,
    VISIT,
    VISITS,
    WALL,
    end_tick,
)

NEVER = 1e300
# What a tick in the shop weighs beside the lateness: it only ever decides ties.
TIE = 1e-7


@compiled
def put_fixed(tables: Any, hands: Any, task: int) -> bool:
    """Keep the hands and the place of an appointment or of started work; False where they are taken."""
    slot = tables[tables[FIXED] + task]
    end = slot + tables[tables[LENGTH] + task]
    hands[hands[H_START] + task], hands[hands[H_END] + task] = slot, end
    place = tables[tables[PLACE] + task]
    if tables[tables[GHOST] + task] == 1:
        return True
    if place >= 0:
        add_use(tables, hands, place, slot, end, 1)
        for at in range(slot, end):
            if hands[hands[H_USED] + place * tables[SLOTS] + at] > tables[tables[ROOM] + place]:
                return False
    if tables[tables[CUT] + task] == 0 and end > tables[tables[PERIOD_END] + slot]:
        return False
    operation = tables[tables[OPERATION] + task]
    for person in range(tables[PEOPLE]):
        if tables[tables[ABLE] + operation * tables[PEOPLE] + person] == 0:
            continue
        if tables[tables[FIXED_PERSON] + task] >= 0 and tables[tables[FIXED_PERSON] + task] != person:
            continue
        if hands_free(tables, hands, person, slot, end) == 0:
            fill(tables, hands, person, slot, end, end)
            hands[hands[H_WHO] + operation] = person
            return True
    return False


@compiled
def put_fixed_setup(tables: Any, hands: Any, task: int) -> bool:
    """The set-up of an appointment; False where nobody has the hands for it."""
    family, slot = tables[tables[FAMILY] + task], tables[tables[FIXED] + task]
    if family < 0 or tables[tables[GHOST] + task] == 1 or slot < tables[NOW]:
        return True
    stretch = tables[tables[KEEP] + family * tables[SLOTS] + slot]
    made = hands[hands[H_WARM_END] + family * tables[STRETCHES] + stretch]
    if (
        made > 0
        and end_tick(tables, made) + tables[tables[SETUP_WARM] + family] <= tables[tables[WALL] + slot]
    ):
        return True
    begin, who = last_setup(tables, hands, family, slot)
    if begin < 0 or made > 0:
        return False
    over = begin + tables[tables[SETUP_LENGTH] + family]
    fill(tables, hands, who, begin, over, over)
    hands[hands[H_WARM_END] + family * tables[STRETCHES] + stretch] = over
    hands[hands[H_WARM_START] + family * tables[STRETCHES] + stretch] = begin
    hands[hands[H_WARM_WHO] + family * tables[STRETCHES] + stretch] = who
    hands[hands[H_WARM_TASK] + family * tables[STRETCHES] + stretch] = -1
    return True


@compiled
def put_givens(tables: Any, hands: Any) -> bool:
    """Place set-ups already made, appointments and started work; False where these clash."""
    for row in range(tables[GIVENS]):
        at = tables[GIVEN] + 4 * row
        family, stretch, slot, person = tables[at], tables[at + 1], tables[at + 2], tables[at + 3]
        over = slot + tables[tables[SETUP_LENGTH] + family]
        fill(tables, hands, person, slot, over, over)
        warm = family * tables[STRETCHES] + stretch
        hands[hands[H_WARM_END] + warm] = over
        hands[hands[H_WARM_START] + warm] = slot
        hands[hands[H_WARM_WHO] + warm] = person
    for turn in range(3):
        for task in range(tables[TASKS]):
            if tables[tables[FIXED] + task] < 0:
                continue
            named = tables[tables[FIXED_PERSON] + task] >= 0
            if (turn == 0 and named) or (turn == 1 and not named):
                if not put_fixed(tables, hands, task):
                    return False
            elif turn == 2 and not put_fixed_setup(tables, hands, task):
                return False
    return True


@compiled
def first_sums(tables: Any, costs: Any, sums: Any) -> None:
    """Lateness and time in the shop before anything is placed: what no plan can avoid."""
    sums[0] = 0.0
    sums[1] = 0.0
    for visit in range(tables[VISITS]):
        ready = tables[tables[READY] + visit]
        sums[0] += costs[visit] * max(0, ready - tables[tables[DUE] + visit])
        sums[1] += ready


@compiled
def count(tables: Any, costs: Any, hands: Any, sums: Any, item: int) -> None:
    """Add what the tasks of an item do to lateness, time in the shop and price of moving."""
    for at in range(tables[tables[ITEM_FROM] + item], tables[tables[ITEM_FROM] + item + 1]):
        task = tables[tables[ITEM_TASK] + at]
        if tables[tables[GHOST] + task] == 1:
            continue
        visit = tables[tables[VISIT] + task]
        tick = end_tick(tables, hands[hands[H_END] + task]) + tables[tables[TAIL] + task]
        before = hands[hands[H_READY] + visit]
        if tick > before:
            due = tables[tables[DUE] + visit]
            sums[0] += costs[visit] * (max(0, tick - due) - max(0, before - due))
            sums[1] += tick - before
            hands[hands[H_READY] + visit] = tick
        old = tables[tables[OLD_SLOT] + task]
        if old >= 0:
            who = hands[hands[H_WHO] + tables[tables[OPERATION] + task]]
            if hands[hands[H_START] + task] != old or who != tables[tables[OLD_PERSON] + task]:
                sums[0] += costs[tables[VISITS] + task]


@compiled
def cost_of(sums: Any) -> float:
    """Weighted lateness, price of moving, and the time in the shop that decides ties."""
    cost: float = sums[0] + TIE * sums[1]
    return cost
