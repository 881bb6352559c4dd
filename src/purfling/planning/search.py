"""Chains of annealing over one load: plans by rule, then improvement for a time or a number of trials."""

import os
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

import numpy as np

from purfling.planning.anneal import anneal
from purfling.planning.dispatch import dispatch
from purfling.planning.rules import LEANINGS, latest_start_keys
from purfling.planning.sequence import NEVER, first_sums, put_givens
from purfling.planning.state import Floats, Hands, Ints, Tables, blank, pack, view

# Acceptance scale [weighted ticks x 5]: a share of the cost for each visit, from the first to the last trial.
WARM, COOL = 0.25, 0.01
CHUNK_SECONDS = 0.1
CHAINS = 2


@dataclass
class Ground:
    """A load's arrays for the loops, and the hands before anything is placed."""

    tables: Tables
    flat: Ints
    costs: Floats
    cells: Ints
    sums: Floats
    first_item: Ints
    sound: bool


def ground(tables: Tables) -> Ground:
    """Prepare the loops' arrays; ``sound`` is False where appointments clash already."""
    flat, costs = pack(tables)
    cells, sums = blank(tables), np.zeros(2)
    first_sums(flat, costs, sums)
    sound = bool(put_givens(flat, cells))
    visits = np.arange(len(tables.due) + 1)
    first_item = np.searchsorted(tables.item_visit, visits).astype(np.int32)
    return Ground(tables, flat, costs, cells, sums, first_item, sound)


@dataclass
class Chain:
    """Keys and ways of the items (see ``dispatch``), the plan they give, and its cost."""

    keys: Floats
    ways: Ints
    cells: Ints
    cost: float

    def hands(self, tables: Tables) -> Hands:
        """The plan's hands."""
        return view(tables, self.cells)


def no_ways(base: Ground) -> Ints:
    """Nothing kept, nothing held back."""
    return np.zeros(2 * len(base.tables.item_visit), dtype=np.int32)


def queue_for(base: Ground) -> Ints:
    """Scratch for the dispatch."""
    return np.zeros(2 * len(base.tables.item_visit) + len(base.tables.wall) + 1, dtype=np.int32)


def run(base: Ground, keys: Floats, ways: Ints) -> Chain:
    """One dispatch; cost NEVER where it leads to no plan."""
    cells, sums = base.cells.copy(), base.sums.copy()
    cost = dispatch(base.flat, base.costs, cells, sums, queue_for(base), keys, ways, NEVER)
    return Chain(keys, ways, cells, float(cost))


def first_plans(base: Ground, ways: Ints) -> list[Chain]:
    """A plan by each dispatch rule, the best first."""
    found = [run(base, latest_start_keys(base.tables, lean), ways) for lean in LEANINGS]
    return sorted(found, key=lambda chain: chain.cost)


def shortened(tables: Tables, slots: int) -> Tables:
    """The same tables on the first ``slots`` slots of the axis."""
    if slots >= len(tables.wall):
        return tables
    return tables._replace(
        wall=tables.wall[:slots],
        period_end=np.minimum(tables.period_end[:slots], slots),
        keep=tables.keep[:, :slots],
        away=np.minimum(tables.away[:, :slots], slots),
    )


class Annealer:
    """One chain with its scratch; ``best`` is the best it has seen."""

    def __init__(self, base: Ground, start: Chain, seed: int) -> None:
        self.base, self.seed, self.turns = base, seed, 0
        self.now = Chain(start.keys.copy(), start.ways.copy(), start.cells.copy(), start.cost)
        self.best_keys, self.best_ways = start.keys.copy(), start.ways.copy()
        self.marks = np.array([start.cost, start.cost])
        self._trial, self._trial_ways = start.keys.copy(), start.ways.copy()
        self._cells, self._sums, self._queue = base.cells.copy(), base.sums.copy(), queue_for(base)

    def step(self, scale: float, turns: int) -> None:
        """``turns`` trials at an acceptance scale."""
        base = self.base
        anneal(
            base.flat,
            base.costs,
            base.cells,
            base.sums,
            self.now.cells,
            base.first_item,
            self.now.keys,
            self.now.ways,
            self.best_keys,
            self.best_ways,
            self.marks,
            self._trial,
            self._trial_ways,
            self._cells,
            self._sums,
            self._queue,
            scale,
            turns,
            self.seed + self.turns,
        )
        self.turns += turns

    @property
    def best(self) -> float:
        """Cost of the best keys."""
        return float(self.marks[1])

    def restart(self, keys: Floats, ways: Ints) -> None:
        """Go on from other keys."""
        self.now = run(self.base, keys.copy(), ways.copy())
        self.marks[0] = self.now.cost
        if self.now.cost < self.marks[1]:
            self.marks[1] = self.now.cost
            self.best_keys[:], self.best_ways[:] = keys, ways


def _scale(base: Ground, cost: float, part: float) -> float:
    each = max(cost, 1.0) / max(len(base.tables.due), 1)
    return float(each * WARM * (COOL / WARM) ** part)


Tell = Callable[[float, int], None]


class Race:
    """Some chains side by side; each leaves its processor for the whole of a step."""

    def __init__(self, base: Ground, start: Chain, seconds: float | None, evaluations: int | None) -> None:
        self.base, self.seconds, self.total = base, seconds, max(0, evaluations or 0)
        self.chains = [Annealer(base, start, 1_000_003 * k) for k in range(CHAINS)]
        self.begin = time.perf_counter()
        self.done, self.part = 0, 0.0
        self.turns = 20 if seconds is not None else self._share()

    def _share(self) -> int:
        left = max(0, self.total - self.done)
        return min(max(1, self.total // (60 * CHAINS)), -(-left // CHAINS))

    def step(self, pool: ThreadPoolExecutor) -> Annealer:
        """Every chain goes on for a while; the best of them."""
        tick = time.perf_counter()
        scale = _scale(self.base, min(chain.best for chain in self.chains), self.part)
        turns = self.turns

        def go(chain: Annealer) -> None:
            chain.step(scale, turns)

        list(pool.map(go, self.chains))
        self.done += turns * CHAINS
        best = min(self.chains, key=lambda chain: chain.best)
        if self.seconds is None:
            self.part = self.done / max(self.total, 1)
            self.turns = self._share()
        else:
            now = time.perf_counter()
            self.part = (now - self.begin) / max(self.seconds, 1e-9)
            left = max(0.0, self.seconds - (now - self.begin))
            rate = turns / max(now - tick, 1e-4)
            self.turns = int(min(max(1, rate * min(CHUNK_SECONDS, left)), 20_000))
        if self.part > 0.5:
            for chain in self.chains:
                if chain is not best and chain.marks[0] > best.best + 8 * scale:
                    chain.restart(best.best_keys, best.best_ways)
        return best


def search(
    base: Ground,
    start: Chain,
    seconds: float | None,
    evaluations: int | None,
    tell: Tell | None = None,
    enough: float = 0.0,
) -> tuple[Chain, int]:
    """Improve a plan.

    Parameters
    ----------
    base : Ground
    start : Chain
        A plan to begin from.
    seconds : float or None
        Time for it; with it the result depends on the machine.
    evaluations : int or None
        Number of trials (used where ``seconds`` is None): the result is repeatable.
    tell : callable or None
        Told (cost of the best, trials so far) now and then.
    enough : float
        A cost at which to stop: nothing better is possible.

    Returns
    -------
    (Chain, int)
        The best plan and the number of trials.
    """
    race = Race(base, start, seconds, evaluations)
    with ThreadPoolExecutor(max(1, min(CHAINS, os.cpu_count() or 1))) as pool:
        while race.part < 1.0 and race.turns > 0:
            best = race.step(pool)
            if tell is not None:
                tell(best.best, race.done)
            if best.best <= enough:
                break
    best = min(race.chains, key=lambda chain: chain.best)
    return run(base, best.best_keys, best.best_ways), race.done
