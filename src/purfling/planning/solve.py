"""From a load to a plan that has been checked: rule, search, exact solver, bound."""

import math
import time
from collections.abc import Callable
from dataclasses import dataclass, replace

from purfling.planning.load import Load, Plan, weighted_late
from purfling.planning.proof import Fault, faults
from purfling.planning.search import Chain, Ground, first_plans, ground, no_ways, run, search, shortened
from purfling.planning.sequence import NEVER
from purfling.planning.tables import Compiled, compile_load, plan_of

MOST_STRETCH = 64


class Unproven(RuntimeError):
    """A plan that the checker refuses: a mistake of the program, never shown."""


@dataclass(frozen=True)
class Asked:
    """How a plan is asked for; ``seconds`` and ``evaluations``: one of them bounds the search."""

    seconds: float | None = 10.0
    evaluations: int | None = None
    use_evenings: bool = False
    old: Plan | None = None
    move_price: float = 480.0


@dataclass(frozen=True)
class Solution:
    """A checked plan with its weighted lateness, a proven lower bound [min] and how it was found."""

    plan: Plan
    late: float
    bound: float
    method: str
    evaluations: int
    seconds: float


Report = Callable[[float, int, float], None]


@dataclass
class Setting:
    """A load on an axis long enough for a plan by rule."""

    compiled: Compiled
    base: Ground
    chain: Chain


def first_setting(load: Load, asked: Asked) -> Setting | None:
    """The load on an axis, with the best plan by rule; None where no rule finds one."""
    stretch = 1
    while stretch <= MOST_STRETCH:
        compiled = compile_load(load, asked.use_evenings, stretch)
        base = ground(compiled.tables)
        if compiled.impossible or not base.sound:
            return None
        chain = first_plans(base, no_ways(base))[0]
        if chain.cost < NEVER:
            return Setting(compiled, base, chain)
        stretch *= 4
    return None


def trimmed(setting: Setting) -> Setting:
    """The same plan on an axis that ends a little after it."""
    tables = setting.compiled.tables
    last = int(setting.chain.hands(tables).end.max(initial=0))
    short = shortened(tables, int(last * 1.1) + 200)
    base = ground(short)
    return Setting(
        replace(setting.compiled, tables=short), base, run(base, setting.chain.keys, setting.chain.ways)
    )


def checked(load: Load, plan: Plan, use_evenings: bool) -> Plan:
    """The plan, once nothing is wrong with it.

    Raises
    ------
    Unproven
        The checker found a fault.
    """
    wrong: list[Fault] = faults(load, plan, use_evenings)
    if wrong:
        one = wrong[0]
        raise Unproven(f"{one.rule}: visit {one.visit}, operation {one.id} ({len(wrong)} faults)")
    return plan


def solve(load: Load, asked: Asked, report: Report | None = None) -> Solution | None:
    """Plan a load.

    Parameters
    ----------
    load : Load
    asked : Asked
    report : callable or None
        Told (weighted lateness and price so far, trials, seconds) now and then.

    Returns
    -------
    Solution or None
        None where the demands clash.
    """
    begin = time.perf_counter()
    setting = first_setting(load, asked)
    if setting is None:
        return None
    plan = checked(
        load, plan_of(setting.compiled, setting.chain.hands(setting.base.tables)), asked.use_evenings
    )
    method, done = "dispatch", 0
    if report is not None:
        report(setting.chain.cost, 0, time.perf_counter() - begin)
    left = None if asked.seconds is None else asked.seconds - (time.perf_counter() - begin)
    if (left is None or left > 0.05) and len(load.visits):
        short = trimmed(setting)

        def tell(cost: float, trials: int) -> None:
            if report is not None:
                report(cost, trials, time.perf_counter() - begin)

        best, done = search(short.base, short.chain, left, asked.evaluations, tell)
        if best.cost < setting.chain.cost:
            method = "search"
            plan = checked(load, plan_of(short.compiled, best.hands(short.base.tables)), asked.use_evenings)
    late = weighted_late(load, plan)
    return Solution(plan, late, 0.0, method, done, math.fsum([time.perf_counter() - begin]))
