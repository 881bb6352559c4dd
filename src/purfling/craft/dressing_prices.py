"""What holds a solved plan, and how far it moves with the readings it stands on."""

from copy import copy
from dataclasses import replace
from typing import Any

import numpy as np

from purfling.craft.dressing_lp import TOUCH, Programme, Solved
from purfling.craft.geometry import Array

TRIALS, FEW_TRIALS = 24, 6  # shaken plans of a board of few and of many places
MANY = 700
ONE_SIGMA = 0.6827


def priced_rows(programme: Programme, pair: tuple[float, float]) -> list[tuple[str, int, float | None]]:
    """Rows with a price in the exact solution at the radii: why, station, lateral place (None: no place)."""
    from scipy.optimize import linprog

    low, high = programme.bounds()
    done: Any = linprog(  # type: ignore[call-overload]
        programme.costs,
        A_ub=programme.fixed,
        b_ub=programme.right_hand(pair),
        bounds=np.column_stack((low, high)),
        method="highs",
    )
    if done.x is None:
        raise RuntimeError(f"HiGHS ends with {done.status}: {done.message}")
    priced = np.nonzero(np.abs(done.ineqlin.marginals) > 1e-7)[0]
    pits = {
        (int(s), round(float(y), 6)) for s, y in zip(programme.bound.station, programme.bound.y, strict=True)
    }
    found: list[tuple[str, int, float | None]] = []
    for row in priced:
        name, station, y = programme.places[row]
        if name == "lowest" and y is not None and (station, round(y, 6)) in pits:
            name = "pit"
        if name != "left":
            found.append((name, station, y))
    return found


def removal_error(
    programme: Programme,
    solved: Solved,
    pair: tuple[float, float],
    gauge_error_mm: float,
    loading: Array | None = None,
) -> tuple[float, float]:
    """Half width that holds 68 of 100 removals, over all places [mm] (one standard deviation where
    normal), and the share of shaken boards that could not have the wish.

    Parameters
    ----------
    gauge_error_mm : of each height by itself [mm]; or
    loading : (places, readings) effect of one standard deviation of each independent reading [mm].

    Method: the plan is made anew, radii kept, for readings shaken by their error (the same every time), and
    the scatter of height less plan is taken. A plan stands on few places, and which ones changes with the
    readings, so a derivative says little.
    """
    if gauge_error_mm == 0.0 and loading is None:
        return 0.0, 0.0
    count = len(programme.counted.y)
    rng = np.random.default_rng(0)
    trials = TRIALS if count <= MANY else FEW_TRIALS
    across = programme.counted.y / programme.scale
    shares: list[Array] = []
    for _ in range(trials):
        if loading is None:
            moved = rng.normal(0.0, gauge_error_mm, count)
        else:
            moved = loading @ rng.normal(0.0, 1.0, loading.shape[1])
        other = shaken(programme, moved).solve(pair)
        if other.blocked > TOUCH * 10:
            continue
        centre = (other.centre_mm - solved.centre_mm)[programme.counted.station]
        tilt = (other.tilt - solved.tilt)[programme.counted.station] * programme.scale
        shares.append(moved - centre - tilt * across)
    alone = gauge_error_mm if loading is None else float(np.sqrt((loading**2).sum(axis=1).mean()))
    found = float(np.quantile(np.abs(np.array(shares)), ONE_SIGMA)) if shares else alone
    return found, 1.0 - len(shares) / trials


def shaken(programme: Programme, moved_mm: Array) -> Programme:
    """The programme of a board whose measured heights are moved (places) [mm]."""
    other = copy(programme)
    counted = programme.counted
    other.counted = replace(counted, z=counted.z + moved_mm, top=counted.top + moved_mm)
    other.all_top = np.concatenate((other.counted.top, programme.bound.top))
    other.low, other.high = programme.low.copy(), programme.high.copy()
    return other
