"""The set-up: from a card's readings to notches, curves, angles and loads.

Definitions: docs/setup-geometry.md. Lengths mm, forces N, angles degrees; strings from the lowest to the
highest, bass negative.
"""

import math
from dataclasses import dataclass

import numpy as np

from purfling.craft.card import Card, board_slope, check_card, diameters
from purfling.craft.geometry import Array, FittedCircle, circle_fit, sag, surface
from purfling.craft.statics import foot_loads, string_forces
from purfling.craft.strings import lateral_places

STEP = 1e-4  # mm, for the derivatives


@dataclass(frozen=True)
class StringPlace:
    """What the set-up says of one string; names as in the results of ``purfling setup``."""

    name: str
    lateral_mm: float
    notch_height_mm: float
    notch_height_error_mm: float
    crown_height_mm: float
    over_board_line_mm: float
    nut_angle_deg: float
    tail_angle_deg: float
    break_angle_deg: float
    tension_n: float
    down_force_n: float
    edge_margin_nut_mm: float | None
    edge_margin_end_mm: float | None


@dataclass(frozen=True)
class Load:
    """Sums over the strings [N]; ``along_string_n`` positive pulls the bridge's top towards the board."""

    total_tension_n: float
    total_down_force_n: float
    bass_foot_n: float
    treble_foot_n: float
    along_string_n: float


@dataclass(frozen=True)
class Setup:
    """The whole set-up of a card.

    ``clearance_mm`` and ``nut_clearance_mm``: underside, upright. ``slope_worked_out_deg``: from projection,
    arch, root and stop, whether or not a slope was given. ``level_*``: underside against the board line.
    """

    strings: tuple[StringPlace, ...]
    notch_curve: FittedCircle
    crown_curve: FittedCircle
    centre_height_mm: float
    crown_centre_height_mm: float
    board_slope_deg: float
    slope_worked_out_deg: float
    load: Load
    groove_lateral_mm: tuple[float, ...]
    end_lateral_mm: tuple[float, ...]
    clearance_mm: tuple[float, ...]
    nut_clearance_mm: tuple[float, ...]
    level_nut_mm: tuple[float, ...]
    level_end_mm: tuple[float, ...]
    level_bridge_mm: tuple[float, ...]


@dataclass(frozen=True)
class _Levels:
    """Rows: the card itself, then each input moved by STEP."""

    slope: Array  # (k, 1) radians
    end_clearance: Array
    nut_clearance: Array
    nut: Array
    end: Array
    bridge: Array
    notch: Array
    y_end: Array


def _levels(card: Card) -> _Levels:
    """Undersides and notches for the card (row 0) and for each input moved by STEP (rows 1 ...)."""
    n = len(card.strings)
    k = 9 + 2 * n
    scalars = np.repeat(
        np.array(
            [
                [
                    card.projection_mm,
                    card.string_length_mm,
                    card.board_length_mm,
                    card.stop_mm,
                    card.radius_nut_mm,
                    card.radius_end_mm,
                    card.nut_spacing_mm,
                    card.bridge_spacing_mm,
                ]
            ]
        ),
        k,
        axis=0,
    )
    rows = np.arange(8)
    scalars[rows + 1, rows] += STEP
    projection, length, board, stop, r_nut, r_end, s_nut, s_bridge = (scalars[:, [i]] for i in range(8))
    read_end = np.repeat(np.array([card.end_clearance_mm]), k, axis=0)
    read_nut = np.repeat(np.array([card.nut_clearance_mm]), k, axis=0)
    strings = np.arange(n)
    read_end[9 + strings, strings] += STEP
    read_nut[9 + n + strings, strings] += STEP

    diameter = np.array(diameters(card))
    y_nut = _places(card.nut_spacing_mm, card.nut_spacing, card, s_nut)
    y_bridge = _places(card.bridge_spacing_mm, card.bridge_spacing, card, s_bridge)
    y_end = y_nut + (y_bridge - y_nut) * board / length

    reading = read_end - diameter / 2 if card.end_datum == "centre" else read_end
    clear_end = _upright(card, reading, r_end, y_end)
    clear_nut = read_nut - diameter / 2 if card.nut_datum == "centre" else read_nut

    level_nut = surface(r_nut, y_nut, card.flat_low_mm) + clear_nut
    level_end = surface(r_end, y_end, card.flat_low_mm) + clear_end
    level = level_nut + (level_end - level_nut) * length / board
    slope = _slopes(card, projection, stop, r_nut, r_end, board)
    notch = projection + level / np.cos(slope)
    return _Levels(slope, clear_end, clear_nut, level_nut, level_end, level, notch, y_end)


def _places(nominal: float, spacing: str, card: Card, moved: Array) -> Array:
    """Lateral places for each row's spacing; equal gaps move with the spacing by the same share."""
    base = np.array([lateral_places(nominal, spacing, diameters(card))])
    even = np.array([lateral_places(1.0, "centres", diameters(card))])
    return np.asarray(base + even * (moved - nominal))


def _upright(card: Card, reading: Array, r_end: Array, y_end: Array) -> Array:
    """Clearance upright from a reading upright or by wedge (the shortest way to the arc or its flat)."""
    if card.end_direction == "upright":
        return reading
    arc = np.sqrt((r_end + reading) ** 2 - y_end**2) - np.sqrt(r_end**2 - y_end**2)
    if card.flat_low_mm is None:
        return np.asarray(arc)
    slope = card.flat_low_mm / np.sqrt(r_end**2 - card.flat_low_mm**2)
    return np.where(y_end < -card.flat_low_mm, reading * np.sqrt(1 + slope**2), arc)


def _slopes(card: Card, projection: Array, stop: Array, r_nut: Array, r_end: Array, board: Array) -> Array:
    if card.board_slope_deg is not None:
        return np.full_like(projection, math.radians(card.board_slope_deg))
    r_root = r_nut + (r_end - r_nut) * card.neck_stop_mm / board
    root = card.overstand_mm + card.edge_at_root_mm + sag(r_root, card.width_root_mm / 2)
    return np.asarray(np.arctan((projection + card.arch_mm - root) / stop))


def _errors(card: Card, notch: Array) -> Array:
    """One standard deviation of each notch height: sqrt(sum (dh/dx sigma)^2), first order."""
    g = card.gauge
    n = len(card.strings)
    sigma = np.array(
        [
            g.projection_mm,
            g.length_mm,
            g.length_mm,
            g.length_mm,
            g.radius_mm,
            g.radius_mm,
            g.spacing_mm,
            g.spacing_mm,
            *[g.clearance_end_mm] * n,
            *[g.clearance_nut_mm] * n,
        ]
    )
    jacobian = (notch[1:] - notch[0]) / STEP
    return np.asarray(np.sqrt(((jacobian * sigma[:, None]) ** 2).sum(axis=0)))


def setup(card: Card) -> Setup:
    """The set-up of a card, with the errors that follow from its gauges.

    Raises
    ------
    Refusal
        As ``check_card``; also a clearance below the string's own half (datum centre), notches on a line.

    Reference: docs/setup-geometry.md, sections "Board and strings" and "Angles and loads".
    """
    check_card(card)
    levels = _levels(card)
    wide = diameters(card)
    y_bridge = lateral_places(card.bridge_spacing_mm, card.bridge_spacing, wide)
    y_nut = lateral_places(card.nut_spacing_mm, card.nut_spacing, wide)
    notch = [float(v) for v in levels.notch[0]]
    deep = [card.notch_depth_mm if card.notch_depth_mm is not None else d / 3 for d in wide]
    crown = [h + d for h, d in zip(notch, deep, strict=True)]
    places, along = _string_places(card, levels, crown)
    notch_curve = circle_fit(y_bridge, notch)
    crown_curve = circle_fit(y_bridge, crown)

    def row(values: Array) -> tuple[float, ...]:
        return tuple(float(v) for v in values[0])

    return Setup(
        strings=tuple(places),
        notch_curve=notch_curve,
        crown_curve=crown_curve,
        centre_height_mm=notch_curve.top_at(0.0),
        crown_centre_height_mm=crown_curve.top_at(0.0),
        board_slope_deg=math.degrees(float(levels.slope[0, 0])),
        slope_worked_out_deg=board_slope(card),
        load=_load(card, places, along),
        groove_lateral_mm=y_nut,
        end_lateral_mm=row(levels.y_end),
        clearance_mm=row(levels.end_clearance),
        nut_clearance_mm=row(levels.nut_clearance),
        level_nut_mm=row(levels.nut),
        level_end_mm=row(levels.end),
        level_bridge_mm=row(levels.bridge),
    )


def _margin(width: float | None, lateral: float, diameter: float) -> float | None:
    return None if width is None else width / 2 - abs(lateral) - diameter / 2


def _string_places(card: Card, levels: _Levels, crown: list[float]) -> tuple[list[StringPlace], float]:
    """Each string's answer, and the sum of the forces along the strings [N]."""
    errors = _errors(card, levels.notch)
    theta = float(levels.slope[0, 0])
    wide = diameters(card)
    y_bridge = lateral_places(card.bridge_spacing_mm, card.bridge_spacing, wide)
    y_nut = lateral_places(card.nut_spacing_mm, card.nut_spacing, wide)
    notch = [float(v) for v in levels.notch[0]]
    places: list[StringPlace] = []
    along = 0.0
    for i, string in enumerate(card.strings):
        rise = float(levels.bridge[0, i] - levels.nut[0, i])
        a = theta + math.atan(rise / card.string_length_mm)
        fall = card.arch_mm + notch[i] - card.saddle_height_mm
        b = math.atan(fall / card.saddle_distance_mm)
        down, forward = string_forces(string.tension_n, math.degrees(a), math.degrees(b))
        along += forward
        places.append(
            StringPlace(
                name=string.name,
                lateral_mm=y_bridge[i],
                notch_height_mm=notch[i],
                notch_height_error_mm=float(errors[i]),
                crown_height_mm=crown[i],
                over_board_line_mm=crown[i] - card.projection_mm,
                nut_angle_deg=math.degrees(a),
                tail_angle_deg=math.degrees(b),
                break_angle_deg=180.0 - math.degrees(a) - math.degrees(b),
                tension_n=string.tension_n,
                down_force_n=down,
                edge_margin_nut_mm=_margin(card.width_nut_mm, y_nut[i], wide[i]),
                edge_margin_end_mm=_margin(card.width_end_mm, float(levels.y_end[0, i]), wide[i]),
            )
        )
    return places, along


def _load(card: Card, places: list[StringPlace], along: float) -> Load:
    down = [p.down_force_n for p in places]
    bass, treble = foot_loads(down, [p.lateral_mm for p in places], card.foot_span_mm - card.foot_length_mm)
    return Load(sum(p.tension_n for p in places), sum(down), bass, treble, along)
