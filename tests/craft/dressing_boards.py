"""Boards of our own making for the tests of dressing, and a slow oracle written on its own."""

from dataclasses import replace

import numpy as np
from scipy.optimize import linprog

from purfling.craft.dressing_board import DressingWish, MeasuredBoard

LENGTH, STRING = 270.0, 328.0
NUT = np.array([-1, -1 / 3, 1 / 3, 1]) * 8.25
BRIDGE = np.array([-1, -1 / 3, 1 / 3, 1]) * 16.65
WISH = DressingWish((0.5, 1.0), (0.2, 0.75), (40.0, 44.0), (40.0, 44.0), 1.0, 4.0)


def arc(radius, y):
    """Sagitta by its own formula: y^2 / (R + sqrt(R^2 - y^2))."""
    return y * y / (radius + np.sqrt(radius * radius - y * y))


def good_board(
    n=9, m=7, low=0.75, high=0.25, radius=42.0, ends=(0.0, 0.0), reach=(11.5, 20.5), flat=None, size=1.0
):
    """A board that is as wished: both outer strings scooped by parabolas, one radius; ``ends`` lift nut and
    end.
    """
    length, string = LENGTH * size, STRING * size
    x = np.linspace(0, length, n)
    u = x / length
    nut, bridge = NUT * size, BRIDGE * size
    low_path = nut[0] + (bridge[0] - nut[0]) * x / string
    high_path = nut[-1] + (bridge[-1] - nut[-1]) * x / string

    def section(y):
        plain = -arc(radius * size, y)
        if flat is None:
            return plain
        f = flat * size
        tangent = -arc(radius * size, f) + f / np.sqrt((radius * size) ** 2 - f * f) * (y + f)
        return np.where(y < -f, tangent, plain)

    shape = 4 * u * (1 - u) * size
    chords = []
    for path, scoop in ((low_path, low), (high_path, high)):
        top = section(path)
        chords.append(top[0] * (1 - u) + top[-1] * u - scoop * shape)
    flat_low, flat_high = chords[0] - section(low_path), chords[1] - section(high_path)
    tilt = (flat_high - flat_low) / (high_path - low_path)
    centre = flat_low - tilt * low_path + ends[0] * (1 - u) + ends[1] * u
    half = (reach[0] + (reach[1] - reach[0]) * u) * size
    y = np.outer(half, np.linspace(-1, 1, m))
    z = centre[:, None] + tilt[:, None] * y + section(y)
    return MeasuredBoard(
        length,
        string,
        x,
        y,
        z,
        nut,
        bridge,
        8.0,
        None if flat is None else flat * size,
        5.5 * size,
        5.5 * size,
    )


def worn(board, seed=0, grooves=6, deepest=0.25):
    """The board with grooves under the strings and a shallow hollow where the hand plays most."""
    rng = np.random.default_rng(seed)
    u = board.station_mm / board.board_length_mm
    size = board.board_length_mm / LENGTH
    z = board.height_mm.copy()
    paths = board.path_mm(board.station_mm)
    for _ in range(grooves):
        k = int(rng.integers(paths.shape[1]))
        along = np.exp(-(((u - rng.uniform(0.05, 0.6)) / 0.05) ** 2))
        across = np.exp(-(((board.lateral_mm - paths[:, [k]]) / (1.8 * size)) ** 2))
        z -= size * rng.uniform(0.05, deepest) * along[:, None] * across
    return replace(board, height_mm=z - 0.1 * size * np.exp(-(((u - 0.3) / 0.2) ** 2))[:, None])


def mirrored(board, wish):
    """Bass and treble exchanged."""
    other = replace(
        board,
        lateral_mm=-board.lateral_mm[:, ::-1],
        height_mm=board.height_mm[:, ::-1],
        string_nut_mm=-board.string_nut_mm[::-1],
        string_bridge_mm=-board.string_bridge_mm[::-1],
        edge_bass_mm=board.edge_treble_mm,
        edge_treble_mm=board.edge_bass_mm,
        pit_lateral_mm=-board.pit_lateral_mm,
    )
    return other, replace(wish, scoop_low_mm=wish.scoop_high_mm, scoop_high_mm=wish.scoop_low_mm)


def oracle(board, wish, r_nut, r_end):
    """Least objective at given radii, or None: every constraint written out one by one, dense, no pruning.

    Only for boards whose stations reach both ends, with a line on the centre, without pits off the grid.
    """
    x, n = board.station_mm, len(board.station_mm)
    u = x / board.board_length_mm
    radius = r_nut + (r_end - r_nut) * u
    a_ub, b_ub = [], []

    def surface(i, y):
        """(row over a, b, M), constant of t at station i."""
        row = np.zeros(2 * n + 1)
        row[i], row[n + i] = 1.0, y
        f = board.flat_low_mm
        if f is not None and y < -f:
            s = arc(radius[i], f) + f / np.sqrt(radius[i] ** 2 - f * f) * (-y - f)
        else:
            s = arc(radius[i], y)
        return row, -s

    def least(row, constant, bound):
        """row . v + constant <= bound"""
        a_ub.append(row)
        b_ub.append(bound - constant)

    count = int(np.isfinite(board.height_mm).sum())
    cost, fixed = np.zeros(2 * n + 1), 0.0
    cost[-1] = wish.weight_max
    outermost = {0: board.edge_bass_mm, board.height_mm.shape[1] - 1: board.edge_treble_mm}
    for i in range(n):
        for j in range(board.height_mm.shape[1]):
            z = board.height_mm[i, j]
            if not np.isfinite(z):
                continue
            row, s = surface(i, board.lateral_mm[i, j])
            least(row, s, z)
            deepest = -row.copy()
            deepest[-1] = -1.0
            least(deepest, -s, -z)
            if outermost.get(j) is not None:
                least(-row, -s, outermost[j] - wish.least_mm - z)
            cost -= wish.weight_mean * row / count
            fixed += wish.weight_mean * (z - s) / count
    for px, py, pz in zip(board.pit_station_mm, board.pit_lateral_mm, board.pit_height_mm, strict=True):
        row, s = surface(int(np.argmin(np.abs(x - px))), py)
        least(row, s, pz + wish.leave_mm)
    middle = board.height_mm.shape[1] // 2
    cos, k = np.cos(np.radians(board.board_slope_deg)), board.string_length_mm / board.board_length_mm
    row = np.zeros(2 * n + 1)
    row[n - 1], row[0] = -k / cos, (k - 1) / cos
    z_nut, z_end = board.height_mm[0, middle], board.height_mm[-1, middle]
    least(row, (z_end * k - z_nut * (k - 1)) / cos, wish.projection_loss_max_mm)
    count_strings = len(board.string_nut_mm)
    for s_index in range(count_strings):
        at = board.string_nut_mm[s_index]
        across = (board.string_bridge_mm[s_index] - at) / board.string_length_mm
        rows = [surface(i, at + across * x[i]) for i in range(n)]
        band = {0: wish.scoop_low_mm, count_strings - 1: wish.scoop_high_mm}.get(s_index)
        for i in range(1, n - 1):
            if band is not None:
                scoop = rows[0][0] * (1 - u[i]) + rows[-1][0] * u[i] - rows[i][0]
                own = rows[0][1] * (1 - u[i]) + rows[-1][1] * u[i] - rows[i][1]
                least(scoop, own, band[1] * 4 * u[i] * (1 - u[i]))
                least(-scoop, -own, -band[0] * 4 * u[i] * (1 - u[i]))
            left, right = x[i] - x[i - 1], x[i + 1] - x[i]
            bend = [
                (rows[i + 1][q] - rows[i][q]) / right - (rows[i][q] - rows[i - 1][q]) / left for q in (0, 1)
            ]
            least(-bend[0], -bend[1], 0.0)
    free = [(None, None)] * (2 * n) + [(0, None)]
    done = linprog(cost, A_ub=np.array(a_ub), b_ub=np.array(b_ub), bounds=free, method="highs")
    return None if done.x is None else float(done.fun + fixed)


def scan(board, wish, steps=9):
    """The oracle over a grid of radii: the least objective, or None."""
    found = [
        oracle(board, wish, a, b)
        for a in np.linspace(*wish.radius_nut_mm, steps)
        for b in np.linspace(*wish.radius_end_mm, steps)
    ]
    return min((f for f in found if f is not None), default=None)
