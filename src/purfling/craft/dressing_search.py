"""The outer search over both radii of the plan.

The least removal has several valleys over the radii. The wished ranges are cut into cells; in each the
programme is solved once with a first-order step of both radii bounded by the cell, which gives the cell's
promise and its place. From the best cells the step is repeated with shrinking bounds; the exact programmes
at the ends decide. Because the limits give way at a high cost, the same search looks for the least slack
where no radii keep the wish.
"""

import math
from dataclasses import dataclass, replace

import numpy as np

from purfling.craft.dressing_board import DressingWish, MeasuredBoard, radii, section
from purfling.craft.dressing_lp import Programme, Solved

CELL = 0.06  # of the radius: the first-order step is good to about y^2 / R^3 half^2 = 0.01 at half a cell
MOST_CELLS = 4  # along each radius
STARTS = 3
WORSE = 1.06  # times the best start's objective; a start beyond it is not descended from
SMALLER = 0.3  # the bounds shrink by so much where a step was none
FINEST = 2e-4  # of the radius; smaller bounds end the search
GAIN = 1e-5  # mm of the objective; a smaller promise ends it as well
SEED, COARSE = (21, 9), (41, 15)  # a finer board is seeded, and descended on, as one of so many places

Pair = tuple[float, float]


@dataclass(frozen=True)
class Searched:
    """The radii found (nut, end) [mm], the exact solution there, the programme and the number of solves."""

    pair: Pair
    solved: Solved
    programme: Programme
    solves: int


def _cells(band: tuple[float, float]) -> tuple[list[float], float]:
    """Centres of the cells of a range and their half width."""
    low, high = band
    count = min(MOST_CELLS, max(1, math.ceil((high - low) / (CELL * (low + high) / 2) - 1e-9)))
    half = (high - low) / count / 2
    return [low + half * (2 * k + 1) for k in range(count)], half


def search_radii(board: MeasuredBoard, wish: DressingWish) -> Searched:
    """The radii in the wished ranges with the least objective (with the least slack where limits must give).

    Parameters
    ----------
    board, wish : lengths mm.

    Returns
    -------
    Searched; its solution is exact at its radii.
    """
    programme = Programme(board, wish)
    (nuts, half_nut), (ends, half_end) = _cells(wish.radius_nut_mm), _cells(wish.radius_end_mm)
    halves = (half_nut, half_end)
    if halves == (0.0, 0.0):
        pair = (nuts[0], ends[0])
        return Searched(pair, programme.solve(pair), programme, programme.solves)
    seeding, descending = _sized(board, wish, programme, SEED), _sized(board, wish, programme, COARSE)
    promised = [_step(seeding, (nut, end), halves, wish)[1] for nut in nuts for end in ends]
    starts = sorted((seeding.solve(pair).value, pair) for pair in sorted(set(promised)))
    found = [_descend(descending, start, halves, wish) for start in _apart(starts, halves)]
    found.sort(key=lambda row: (row[1].value, row[0]))
    if descending is not programme:
        near = (half_nut * SMALLER, half_end * SMALLER)
        found = [_descend(programme, found[0][0], near, wish)]
    pair, solved = found[0]
    return Searched(pair, solved, programme, sum(p.solves for p in {programme, seeding, descending}))


def _sized(
    board: MeasuredBoard, wish: DressingWish, programme: Programme, size: tuple[int, int]
) -> Programme:
    """The programme itself, or that of a coarser board where the board is much finer than ``size``."""
    n, m = board.height_mm.shape
    if n <= 1.5 * size[0] and m <= 1.5 * size[1]:
        return programme
    return Programme(coarser(board, wish, size), wish)


def coarser(board: MeasuredBoard, wish: DressingWish, size: tuple[int, int]) -> MeasuredBoard:
    """A board of at most ``size`` places for the search: of each block the deepest stands for all."""
    n, m = board.height_mm.shape
    rows = np.unique(np.linspace(0, n - 1, min(n, size[0])).round().astype(int))
    cols = np.unique(np.linspace(0, m - 1, min(m, size[1])).round().astype(int))
    middle = radii(board, board.station_mm, sum(wish.radius_nut_mm) / 2, sum(wish.radius_end_mm) / 2)
    own = section(middle[:, None], board.lateral_mm, board.flat_low_mm)
    rest = np.where(board.measured, board.height_mm - own, np.nan)
    level = np.array([np.median(r[np.isfinite(r)]) if np.isfinite(r).any() else 0.0 for r in rest])
    rest = np.where(board.measured, rest - level[:, None], np.inf)
    to_row = np.abs(np.arange(n)[:, None] - rows).argmin(axis=1)
    to_col = np.abs(np.arange(m)[:, None] - cols).argmin(axis=1)
    deepest = np.full((len(rows), len(cols)), np.inf)
    np.minimum.at(deepest, (to_row[:, None], to_col[None, :]), rest)
    height = deepest + level[rows][:, None] + own[np.ix_(rows, cols)]
    return replace(
        board,
        station_mm=board.station_mm[rows],
        lateral_mm=board.lateral_mm[np.ix_(rows, cols)],
        height_mm=np.where(np.isfinite(height), height, np.nan),
    )


def _apart(starts: list[tuple[float, Pair]], halves: Pair) -> list[Pair]:
    """The best starts that do not fall together and are not much worse than the best."""
    kept: list[Pair] = []
    for value, pair in starts:
        if value > starts[0][0] * WORSE + GAIN:
            break
        if all(max(abs(pair[k] - other[k]) - 0.5 * halves[k] for k in (0, 1)) > 1e-9 for other in kept):
            kept.append(pair)
        if len(kept) == STARTS:
            break
    return kept


def _descend(programme: Programme, pair: Pair, halves: Pair, wish: DressingWish) -> tuple[Pair, Solved]:
    """Repeat the first-order step while the exact objective falls; the bounds shrink where it does not."""
    here = programme.solve(pair)
    share = 0.5
    while share * max(halves) > FINEST * max(pair):
        promise, ahead = _step(programme, pair, (share * halves[0], share * halves[1]), wish)
        if promise > here.value - GAIN:
            break
        there = programme.solve(ahead)
        if there.value < here.value - GAIN:
            pair, here = ahead, there
        share *= SMALLER if there is not here else 0.7
    return pair, here


def _box(centre: float, half: float, band: tuple[float, float]) -> tuple[float, float]:
    """Least and greatest step from a radius: at most ``half``, inside the range."""
    return max(-half, band[0] - centre), min(half, band[1] - centre)


def _step(programme: Programme, pair: Pair, halves: Pair, wish: DressingWish) -> tuple[float, Pair]:
    """One first-order step: the promised objective and where it lies."""
    box = (*_box(pair[0], halves[0], wish.radius_nut_mm), *_box(pair[1], halves[1], wish.radius_end_mm))
    found = programme.solve(pair, box)
    return found.value, (
        float(np.clip(pair[0] + found.step_mm[0], *wish.radius_nut_mm)),
        float(np.clip(pair[1] + found.step_mm[1], *wish.radius_end_mm)),
    )
