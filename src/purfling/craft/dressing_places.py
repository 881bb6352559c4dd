"""The places of a measured board that a plan must keep to, and which of them can bind."""

from dataclasses import dataclass
from typing import Any

import numpy as np

from purfling.craft.dressing_board import DressingWish, MeasuredBoard, robust_section
from purfling.craft.geometry import Array


@dataclass(frozen=True)
class Places:
    """Places of the surface: station index, lateral place, greatest height allowed, weight in the mean."""

    station: Any
    y: Array
    z: Array
    top: Array


def places_of(board: MeasuredBoard, wish: DressingWish) -> tuple[Places, Places, Array]:
    """The measured places, those that only bound (pits, estimated ends), and the programme's stations."""
    x = np.unique(np.concatenate((board.station_mm, board.pit_station_mm, [0.0, board.board_length_mm])))
    i, j = np.nonzero(board.measured)
    station = np.searchsorted(x, board.station_mm)[i]
    height = board.height_mm[i, j]
    top = height.copy()
    if wish.leave_mm > 0:
        groove = np.maximum(-robust_section(board, wish)[i, j], 0.0)
        top = top + np.minimum(groove, wish.leave_mm)
    counted = Places(station, board.lateral_mm[i, j], height, top)
    end_station, end_y, end_z = unmeasured_ends(board)
    pit = np.searchsorted(x, board.pit_station_mm)
    end = np.where(end_station == 0, 0, len(x) - 1)
    z = np.concatenate((board.pit_height_mm + wish.leave_mm, end_z))
    bound = Places(
        np.concatenate((pit, end)).astype(int), np.concatenate((board.pit_lateral_mm, end_y)), z, z.copy()
    )
    return counted, bound, x


def unmeasured_ends(board: MeasuredBoard) -> tuple[Array, Array, Array]:
    """Heights at an end where fewer than two places were measured: (end 0 or 1, lateral, height).

    Each line is prolonged by the parabola through its three nearest readings (a straight line through two).
    """
    ends: list[float] = []
    y: list[float] = []
    z: list[float] = []
    n, m = board.height_mm.shape
    for which, at, order in ((0, 0.0, range(n)), (1, board.board_length_mm, range(n - 1, -1, -1))):
        if measured_end(board, which):
            continue
        for j in range(m):
            seen = [i for i in order if np.isfinite(board.height_mm[i, j])][:3]
            if len(seen) < 2:
                continue
            ends.append(which)
            y.append(prolonged(board.station_mm[seen[:2]], board.lateral_mm[seen[:2], j], at))
            z.append(prolonged(board.station_mm[seen], board.height_mm[seen, j], at))
    return np.array(ends), np.array(y), np.array(z)


def measured_end(board: MeasuredBoard, which: int) -> bool:
    """Whether a station with two places measured stands on the nut's end (0) or the board's end (1)."""
    row, at = (0, 0.0) if which == 0 else (-1, board.board_length_mm)
    return bool(abs(board.station_mm[row] - at) < 1e-6 and board.measured[row].sum() >= 2)


def prolonged(x: Array, values: Array, at: float) -> float:
    """Lagrange's polynomial through the given points, at ``at``."""
    total = 0.0
    for i in range(len(x)):
        others = np.delete(x, i)
        total += float(values[i] * np.prod((at - others) / (x[i] - others)))
    return total


MIDDLE_MM = 1.5  # a place this near the middle shows the centre line; heights count from the board line


def centre_ends(board: MeasuredBoard) -> tuple[float, float]:
    """Height of the surface on the centre line at both ends [mm]; 0 (the board line touches) where not
    seen.
    """
    ends, end_y, end_z = unmeasured_ends(board)
    found: list[float] = []
    for which, row in ((0, 0), (1, -1)):
        if measured_end(board, which):
            seen = board.measured[row]
            y, z = board.lateral_mm[row, seen], board.height_mm[row, seen]
        else:
            y, z = end_y[ends == which], end_z[ends == which]
        seen_there = bool(y.size) and float(np.abs(y).min()) <= MIDDLE_MM
        found.append(across(y, z, 0.0) if seen_there and y.min() <= 0.0 <= y.max() else 0.0)
    return found[0], found[1]


def across(y: Array, z: Array, at: float) -> float:
    """Height of a section at a lateral place, by the parabola through its three nearest places."""
    near = np.argsort(np.abs(y - at), kind="stable")[:3]
    if abs(y[near[0]] - at) < 1e-9:
        return float(z[near[0]])
    return prolonged(y[near], z[near], at)


def hull(station: Any, y: Array, w: Array, lower: bool) -> Any:
    """Which places lie on the lower (upper) hull of each station's (y, w); places sorted by station, then
    y.
    """
    sign = 1.0 if lower else -1.0
    keep = np.zeros(len(y), dtype=bool)
    stack: list[int] = []
    before = -1
    ys, ws, stations = y.tolist(), (sign * w).tolist(), station.tolist()
    for p, here in enumerate(stations):
        if here != before:
            keep[stack] = True
            stack, before = [], here
        while len(stack) > 1:
            q, r = stack[-1], stack[-2]
            if (ws[q] - ws[r]) * (ys[p] - ys[r]) < (ws[p] - ws[r]) * (ys[q] - ys[r]):
                break
            stack.pop()
        stack.append(p)
    keep[stack] = True
    return keep
