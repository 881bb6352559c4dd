"""Dressing: the radius search on full grids, against the bare HiGHS solves of the same programmes."""

import time
from typing import Any

import numpy as np

from bench.report import Report
from purfling.craft.dressing_board import DressingWish, MeasuredBoard
from purfling.craft.dressing_lp import Programme
from purfling.craft.dressing_search import search_radii

WISH = DressingWish((0.5, 1.0), (0.2, 0.75), (40.0, 44.0), (40.0, 44.0), 1.0, 4.0)
WIDE = DressingWish((0.5, 1.0), (0.2, 0.75), (36.0, 50.0), (36.0, 50.0), 1.0, 4.0)


def board(n: int, m: int, seed: int = 0) -> MeasuredBoard:
    """A violin's board with grooves under the strings and a hollow, on a grid of n stations and m lines."""
    length, string = 270.0, 328.0
    x = np.linspace(0, length, n)
    u = x / length
    y = np.outer(12 + 9 * u, np.linspace(-1, 1, m))
    z = -0.6 * 4 * (u * (1 - u))[:, None] - y * y / (42 + np.sqrt(42**2 - y * y))
    places = np.array([-1, -1 / 3, 1 / 3, 1])
    found = MeasuredBoard(length, string, x, y, z, places * 8.25, places * 16.65, 8.0, None, 5.5, 5.5)
    rng = np.random.default_rng(seed)
    for path in found.path_mm(x).T:
        for place in rng.uniform(0.05, 0.6, 4):
            along = np.exp(-(((u - place) / 0.04) ** 2))[:, None]
            z -= rng.uniform(0.05, 0.3) * along * np.exp(-(((y - path[:, None]) / 1.5) ** 2))
    z -= 0.1 * np.exp(-(((u - 0.3) / 0.2) ** 2))[:, None]
    return found


def bare_solves(measured: MeasuredBoard, wish: DressingWish) -> tuple[float, float, int]:
    """Time of a search, time of its linear programmes solved once more and alone, and how many [s, s, 1]."""
    from scipy.optimize import Bounds, LinearConstraint, milp

    kept: list[tuple[Any, ...]] = []
    plain = Programme.highs

    def keep(self: Programme, *args: Any) -> Any:
        kept.append(args)
        return plain(self, *args)

    Programme.highs = keep  # type: ignore[method-assign]
    try:
        search_radii(measured, wish)
    finally:
        Programme.highs = plain  # type: ignore[method-assign]
    whole, alone = [], []
    for _ in range(3):
        begin = time.perf_counter()
        search_radii(measured, wish)
        whole.append(time.perf_counter() - begin)
        begin = time.perf_counter()
        for cost, matrix, right, low, high in kept:
            rows = LinearConstraint(matrix, np.full(len(right), -np.inf), right)
            milp(cost, bounds=Bounds(low, high), constraints=rows)
        alone.append(time.perf_counter() - begin)
    return min(whole), min(alone), len(kept)


def measure(report: Report) -> None:
    """41 x 15 with the search over both radii, usual and wide ranges, and 200 x 41."""
    for name, wish in (("usual radii", WISH), ("wide radii", WIDE)):
        whole, alone, count = bare_solves(board(41, 15), wish)
        report.add(f"41 x 15, {name}, radius search of {count} solves", whole, 0.5, "s")
        report.add(f"41 x 15, {name}, search over its bare HiGHS solves", whole / alone, 1.3, "times")
    for name, wish in (("usual radii", WISH), ("wide radii", WIDE)):
        whole, alone, count = bare_solves(board(200, 41), wish)
        report.add(f"200 x 41, {name}, radius search of {count} solves", whole, 2.0, "s")
        report.add(f"200 x 41, {name}, search over its bare HiGHS solves", whole / alone, None, "times")
