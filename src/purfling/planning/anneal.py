"""The search: annealing over keys; every trial is a dispatch, given up as soon as it costs too much."""

from typing import Any

import numpy as np

from purfling.planning.compiled import compiled
from purfling.planning.dispatch import dispatch
from purfling.planning.moves import neighbour
from purfling.planning.sequence import NEVER
from purfling.planning.state import DUE, H_READY, VISITS, copy_into


@compiled
def anneal(
    tables: Any,
    costs: Any,
    blank: Any,
    blank_sums: Any,
    hands: Any,
    first_item: Any,
    keys: Any,
    ways: Any,
    best_keys: Any,
    best_ways: Any,
    marks: Any,
    trial: Any,
    trial_ways: Any,
    scratch: Any,
    sums: Any,
    queue: Any,
    scale: float,
    turns: int,
    seed: int,
) -> None:
    """Try ``turns`` neighbours from ``keys`` on; ``best_*`` receives the best.

    ``marks`` holds the cost of ``keys`` and of the best; ``hands`` the plan of ``keys``.
    ``scale`` is how much worse a neighbour may be to be taken one time in e.
    """
    np.random.seed(seed)
    copy_into(keys, trial)
    copy_into(ways, trial_ways)
    due = tables[tables[DUE] : tables[DUE] + tables[VISITS]]
    ready = hands[hands[H_READY] : hands[H_READY] + tables[VISITS]]
    for _ in range(turns):
        if not neighbour(tables, costs, hands, ready, due, first_item, trial, trial_ways):
            continue
        copy_into(blank, scratch)
        copy_into(blank_sums, sums)
        limit = marks[0] - scale * np.log(1.0 - np.random.random())
        cost = dispatch(tables, costs, scratch, sums, queue, trial, trial_ways, limit)
        if cost >= NEVER:
            copy_into(keys, trial)
            copy_into(ways, trial_ways)
            continue
        copy_into(trial, keys)
        copy_into(trial_ways, ways)
        copy_into(scratch, hands)
        marks[0] = cost
        if cost < marks[1]:
            marks[1] = cost
            copy_into(keys, best_keys)
            copy_into(ways, best_ways)
