"""What follows from a dressing: scoops, nut, bridge, projection, margins, dressings left, what is still
high.
"""

import math
from dataclasses import dataclass, replace

import numpy as np

from purfling.craft.dressing import Plan, surface_of
from purfling.craft.dressing_board import DressingWish, MeasuredBoard, robust_section
from purfling.craft.dressing_lp import Programme
from purfling.craft.geometry import Array
from purfling.craft.swing import Course, Scoop, Swing, margins, stop_place_mm

WORN = 0.005  # mm; less off an edge is no wood
STOPS = 19  # semitones: an octave and a fifth
LAST_STOP = 1.0  # mm from the board's end; a stop nearer to it has no board before it
WIDE_STRETCH = 0.1  # of the board's length; a longer stretch between stations may hide a pit
LEAST_PIT = 0.1  # mm; what is tried there where no deeper groove was found


@dataclass(frozen=True)
class Unseen:
    """The longest stretch no station saw [mm], and what a pit of ``depth_mm`` in it would add to the
    removal.
    """

    from_mm: float
    to_mm: float
    depth_mm: float
    adds_mm: float


def notch_change_mm(
    off_nut_mm: Array | float,
    off_end_mm: Array | float,
    string_length_mm: float,
    board_length_mm: float,
    board_slope_deg: float,
) -> Array:
    """Change of a notch (or, on the centre line, of the projection) when wood comes off; negative is lower.

    Parameters
    ----------
    off_nut_mm, off_end_mm : wood off at nut and board's end [mm]; lengths [mm]; slope [degrees].

    Equation: -(t_e L / Lb - t_n (L / Lb - 1)) / cos(theta): nut recut, clearances kept. Reference:
    docs/setup-geometry.md, identities.
    """
    stretch = string_length_mm / board_length_mm
    t_n, t_e = np.asarray(off_nut_mm), np.asarray(off_end_mm)
    return np.asarray(-(t_e * stretch - t_n * (stretch - 1)) / math.cos(math.radians(board_slope_deg)) + 0.0)


def dressings_left(plan: Plan, least_mm: float) -> int | None:
    """Further dressings like this one until an edge reaches the shop's least; None without edges or wood off.

    floor((edge left - least) / wood off there), the smaller of both sides.
    """
    found: list[int] = []
    for left, off in zip(plan.edge_left_mm, plan.edge_off_mm, strict=True):
        if left is not None and off is not None and off > WORN:
            found.append(max(0, math.floor((left - least_mm) / off + 1e-9)))
    return min(found, default=None)


def margin_ratios(
    plan: Plan,
    board: MeasuredBoard,
    nut_clearance_mm: Array,
    end_clearance_mm: Array,
    pitch_hz: Array,
    swing: Swing,
) -> Array:
    """Least ratio of room to bowed half swing over the planned board, open string and every semitone (k).

    Parameters
    ----------
    nut_clearance_mm, end_clearance_mm : underside, upright, kept by the dressing (k) [mm]; ``pitch_hz`` (k)
    open.

    Reference: docs/setup-geometry.md, scoop, swing and margin (``craft.swing``).
    """
    length, end = board.string_length_mm, board.board_length_mm
    p = plan.programme
    path = plan.solved.centre_mm[:, None] + plan.solved.tilt[:, None] * p.paths + p.path_section(plan.pair)
    stops = stop_place_mm(length, np.arange(STOPS + 1.0))
    found: list[float] = []
    for k, pitch in enumerate(pitch_hz):
        depth = np.concatenate(([0.0], p.chord(path[:, k]), [0.0]))
        rise = (float(end_clearance_mm[k]) - float(nut_clearance_mm[k])) * length / end
        course = Course(
            name=str(k),
            string_length_mm=length,
            board_length_mm=end,
            pitch_hz=float(pitch),
            over_chord_mm=float(nut_clearance_mm[k]) + rise,
            nut_clearance_mm=float(nut_clearance_mm[k]),
            lateral_nut_mm=float(board.string_nut_mm[k]),
            lateral_bridge_mm=float(board.string_bridge_mm[k]),
            radius_nut_mm=plan.radius_nut_mm,
            radius_end_mm=plan.radius_end_mm,
            scoop=Scoop(end, station_mm=tuple(p.x.tolist()), depth_mm=tuple(depth.tolist())),
            flat_low_mm=board.flat_low_mm,
        )
        bowed, _ = margins(course, swing, stops[stops < end - LAST_STOP])
        found.append(float(bowed.ratio.min()))
    return np.array(found)


def height_at(board: MeasuredBoard, x: float, lateral_mm: float) -> float:
    """Measured height at a place by straight lines between the nearest readings; NaN where there are none."""
    per_line: list[tuple[float, float]] = []
    for j in range(board.lateral_mm.shape[1]):
        seen = board.measured[:, j]
        if seen.sum() >= 2:
            z = float(np.interp(x, board.station_mm[seen], board.height_mm[seen, j]))
            per_line.append((float(np.interp(x, board.station_mm, board.lateral_mm[:, j])), z))
    if not per_line:
        return math.nan
    y, z = np.array(per_line).T
    return float(np.interp(lateral_mm, y, z))


def unseen_stretch(plan: Plan, board: MeasuredBoard, wish: DressingWish, seen_mm: Array) -> Unseen | None:
    """What a pit in the longest stretch between stations would add to the deepest removal; None when all
    are short.

    The pit is as deep as the deepest groove found (at least LEAST_PIT), half way, under the string where it
    adds most, at the plan's radii. ``seen_mm``: the stations that hold readings.
    """
    x = np.unique(np.concatenate((seen_mm, board.pit_station_mm, [0.0, board.board_length_mm])))
    steps = np.diff(x)
    widest = int(np.argmax(steps))
    if steps[widest] < WIDE_STRETCH * board.board_length_mm:
        return None
    depth = max(LEAST_PIT, -float(np.nanmin(robust_section(board, wish))))
    for px, py, pz in zip(board.pit_station_mm, board.pit_lateral_mm, board.pit_height_mm, strict=True):
        depth = max(depth, height_at(board, float(px), float(py)) - float(pz))
    middle = float(x[widest] + x[widest + 1]) / 2
    adds = 0.0
    for y in board.path_mm(np.array([middle]))[0]:
        pit = replace(
            board,
            pit_station_mm=np.append(board.pit_station_mm, middle),
            pit_lateral_mm=np.append(board.pit_lateral_mm, y),
            pit_height_mm=np.append(board.pit_height_mm, height_at(board, middle, float(y)) - depth),
        )
        adds = max(adds, Programme(pit, wish).solve(plan.pair).deepest_mm - plan.max_removal_mm)
    return Unseen(float(x[widest]), float(x[widest + 1]), depth, adds)


def planned_gap_mm(
    plan: Plan, board: MeasuredBoard, lateral_mm: tuple[float, float], station_mm: Array
) -> Array:
    """Gap under a straight edge laid on the planned surface along a line (lateral places at nut and end)
    [mm].
    """
    u = board.share(station_mm)
    y = lateral_mm[0] + (lateral_mm[1] - lateral_mm[0]) * u
    ends = surface_of(plan, board, np.array([0.0, board.board_length_mm]), np.array(lateral_mm))
    return np.asarray(ends[0] * (1 - u) + ends[1] * u - surface_of(plan, board, station_mm, y))


def still_high_mm(
    plan: Plan, board: MeasuredBoard, lateral_mm: tuple[float, float], station_mm: Array, gap_mm: Array
) -> Array:
    """Wood that still stands over the plan along a line after planing; negative: taken too deep [mm].

    The planned gap less the gap now, both against a straight edge along the line.
    """
    return np.asarray(planned_gap_mm(plan, board, lateral_mm, station_mm) - gap_mm)
