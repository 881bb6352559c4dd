"""Room under a string and the swing it needs: bowed and plucked, open and stopped.

All lengths mm; x runs from the nut's edge to the bridge. Room and swing are both square to the board.
"""

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from purfling.craft.card import Card
from purfling.craft.geometry import Array
from purfling.craft.refusals import Refusal
from purfling.craft.setup import Setup

PAST_FINGER = 20.0  # mm; nearer the finger a difference in millimetres says nothing
SAMPLES = 61  # places between finger and board's end on a parabola


@dataclass(frozen=True)
class Scoop:
    """Depth of a board below a straight edge laid along one string's path.

    Without stations the parabola ``4 middle u (1 - u)``, u from 0 at the nut's edge to 1 at the board's end.
    With stations straight lines between the readings; at both ends the depth is zero by definition.
    """

    board_length_mm: float
    middle_mm: float = 0.0
    station_mm: tuple[float, ...] = ()
    depth_mm: tuple[float, ...] = ()

    def __post_init__(self) -> None:
        if not self.station_mm:
            return
        x, d = list(self.station_mm), list(self.depth_mm)
        if len(x) != len(d):
            raise Refusal("arithmetic.profile_lengths", value=len(d), limit=len(x))
        if any(b <= a for a, b in itertools.pairwise(x)):
            raise Refusal("arithmetic.profile_order")
        if x[0] < 0 or x[-1] > self.board_length_mm + 1e-9:
            raise Refusal("arithmetic.profile_outside", value=x[-1], limit=self.board_length_mm)
        for place, depth in zip(x, d, strict=True):
            if place in (0, self.board_length_mm) and abs(depth) > 1e-9:
                raise Refusal("arithmetic.profile_ends", value=depth, place=place)
        if x[0] > 0:
            x, d = [0.0, *x], [0.0, *d]
        if x[-1] < self.board_length_mm:
            x, d = [*x, self.board_length_mm], [*d, 0.0]
        object.__setattr__(self, "station_mm", tuple(x))
        object.__setattr__(self, "depth_mm", tuple(d))

    def depth(self, place_mm: Array | float) -> Array:
        """Depth at places from the nut's edge [mm]; zero past the board's end."""
        x = np.asarray(place_mm, dtype=np.float64)
        if self.station_mm:
            return np.asarray(np.interp(x, self.station_mm, self.depth_mm))
        u = np.clip(x / self.board_length_mm, 0.0, 1.0)
        return np.asarray(4.0 * self.middle_mm * u * (1.0 - u))

    def slope(self, place_mm: Array | float) -> Array:
        """Slope of the depth towards the bridge just past each place [mm/mm]."""
        x = np.asarray(place_mm, dtype=np.float64)
        if self.station_mm:
            stations, depths = np.array(self.station_mm), np.array(self.depth_mm)
            steps = np.diff(depths) / np.diff(stations)
            piece = np.clip(np.searchsorted(stations, x, side="right") - 1, 0, len(steps) - 1)
            return np.asarray(steps[piece])
        return np.asarray(4.0 * self.middle_mm / self.board_length_mm * (1 - 2 * x / self.board_length_mm))


@dataclass(frozen=True)
class Swing:
    """How a string is played: bow speed [m/s], place and angle; pluck square to the board and its place.

    ``pluck_from_bridge_mm`` None: a quarter of the sounding length, which is also the most it can be.
    """

    bow_speed_m_s: float = 0.5
    bow_from_bridge_mm: float = 30.0
    bow_angle_deg: float = 15.0
    pluck_mm: float = 2.0
    pluck_from_bridge_mm: float | None = None


@dataclass(frozen=True)
class Course:
    """One string over its board, in the frame of the board line.

    ``over_chord_mm``: underside at the bridge over the prolonged chord of the board's surface under this
    string, upright. ``lateral_nut_mm``, ``lateral_bridge_mm``: its places side by side.
    ``nut_clearance_mm``: underside. ``flat_low_mm``: where a flat under the lowest string begins, or None.
    """

    name: str
    string_length_mm: float
    board_length_mm: float
    pitch_hz: float
    over_chord_mm: float
    nut_clearance_mm: float
    lateral_nut_mm: float
    lateral_bridge_mm: float
    radius_nut_mm: float
    radius_end_mm: float
    scoop: Scoop
    flat_low_mm: float | None = None


@dataclass(frozen=True)
class Margin:
    """Least ratio room / swing of each stop, where it lies, and room less swing (shape: stops).

    The millimetres are those at that place or 20 mm past the finger, whichever lies farther.
    """

    ratio: Array
    at_mm: Array
    spare_mm: Array


def courses(
    card: Card, found: Setup, pitch_hz: Sequence[float], scoops: Sequence[Scoop]
) -> tuple[Course, ...]:
    """Every string of a set-up over its board, lowest first; one open pitch [Hz] and one scoop for each."""
    share = card.string_length_mm / card.board_length_mm
    out = []
    for i, string in enumerate(card.strings):
        board_nut = found.level_nut_mm[i] - found.nut_clearance_mm[i]
        board_end = found.level_end_mm[i] - found.clearance_mm[i]
        out.append(
            Course(
                name=string.name,
                string_length_mm=card.string_length_mm,
                board_length_mm=card.board_length_mm,
                pitch_hz=pitch_hz[i],
                over_chord_mm=found.level_bridge_mm[i] - board_nut - (board_end - board_nut) * share,
                nut_clearance_mm=found.nut_clearance_mm[i],
                lateral_nut_mm=found.groove_lateral_mm[i],
                lateral_bridge_mm=found.strings[i].lateral_mm,
                radius_nut_mm=card.radius_nut_mm,
                radius_end_mm=card.radius_end_mm,
                scoop=scoops[i],
                flat_low_mm=card.flat_low_mm,
            )
        )
    return tuple(out)


def stop_place_mm(string_length_mm: float, semitone: Array | float) -> Array:
    """Place of a stop from the nut for a semitone of equal temperament: L (1 - 2^(-k/12)) [mm]."""
    return np.asarray(string_length_mm * (1.0 - 2.0 ** (-np.asarray(semitone, dtype=np.float64) / 12.0)))


def bow_constant(swing: Swing, course: Course) -> float:
    """K sin(phi) [1/mm] of the bowed half swing K sin(phi) (x - s)(L - x), the same for every stop.

    K = 1000 v / (2 f0 L x_b), v [m/s], f0 the open pitch [Hz], L and x_b [mm]. Helmholtz motion, ideal
    string. Reference: Cremer, The Physics of the Violin, ch. 3 (from memory); UNSW teaching text.
    """
    k = 1000.0 * swing.bow_speed_m_s
    k /= 2.0 * course.pitch_hz * course.string_length_mm * swing.bow_from_bridge_mm
    return k * math.sin(math.radians(swing.bow_angle_deg))


def bowed_mm(swing: Swing, course: Course, stop_mm: Array | float, place_mm: Array | float) -> Array:
    """Half swing square to the board of the bowed string at x, stopped at s [mm]."""
    s, x = np.asarray(stop_mm, dtype=np.float64), np.asarray(place_mm, dtype=np.float64)
    return np.asarray(bow_constant(swing, course) * (x - s) * (course.string_length_mm - x))


def plucked_mm(swing: Swing, course: Course, stop_mm: Array | float, place_mm: Array | float) -> Array:
    """Lowest excursion of the plucked string: its first triangle mirrored, apex p from the finger [mm].

    d (x - s) / p for x - s <= p, then d (L - x) / (L - s - p). Ideal string (d'Alembert).
    """
    s, x = np.asarray(stop_mm, dtype=np.float64), np.asarray(place_mm, dtype=np.float64)
    p = pluck_place_mm(swing, course, s)
    near = swing.pluck_mm * (x - s) / p
    far = swing.pluck_mm * (course.string_length_mm - x) / (course.string_length_mm - s - p)
    return np.where(x - s <= p, near, far)


def pluck_place_mm(swing: Swing, course: Course, stop_mm: Array | float) -> Array:
    """Distance of the pluck from the bridge, at most a quarter of the sounding length [mm]."""
    quarter = (course.string_length_mm - np.asarray(stop_mm, dtype=np.float64)) / 4.0
    if swing.pluck_from_bridge_mm is None:
        return np.asarray(quarter)
    return np.asarray(np.minimum(swing.pluck_from_bridge_mm, quarter))


def square(course: Course, place_mm: Array | float) -> Array:
    """Cosine that turns an upright distance under the string into one square to the board."""
    x = np.asarray(place_mm, dtype=np.float64)
    y = (
        course.lateral_nut_mm
        + (course.lateral_bridge_mm - course.lateral_nut_mm) * x / course.string_length_mm
    )
    if course.flat_low_mm is not None:
        y = np.maximum(y, -course.flat_low_mm)
    share = np.minimum(x / course.board_length_mm, 1.0)
    radius = course.radius_nut_mm + (course.radius_end_mm - course.radius_nut_mm) * share
    return np.asarray(np.sqrt(1.0 - (y / radius) ** 2))


def room_mm(course: Course, stop_mm: Array | float, place_mm: Array | float) -> Array:
    """Room between the underside of the stopped string and the board, square to the board [mm].

    The stopped string runs straight from the board's surface at s to the notch; s = 0 is the open string,
    which starts at its nut clearance.
    """
    s, x = np.asarray(stop_mm, dtype=np.float64), np.asarray(place_mm, dtype=np.float64)
    start = np.where(s > 0, -course.scoop.depth(s), course.nut_clearance_mm)
    line = start + (course.over_chord_mm - start) * (x - s) / (course.string_length_mm - s)
    return np.asarray((line + course.scoop.depth(x)) * square(course, x))


def _places(course: Course, stop_mm: Array) -> Array:
    """Candidate places of the least ratio for each stop, all past the finger (stops, places)."""
    scoop, end = course.scoop, course.board_length_mm
    s = stop_mm[:, None]
    if not scoop.station_mm:
        return np.asarray(s + (end - s) * np.linspace(0.0, 1.0, SAMPLES)[None, 1:])
    stations = np.array(scoop.station_mm)
    depths = np.array(scoop.depth_mm)
    slope = np.diff(depths) / np.diff(stations)
    # Room (upright) on a piece is A + B x; the least of (A + B x) / ((x - s)(L - x)) solves
    # B x^2 + 2 A x - (B s L + A (L + s)) = 0.
    length = course.string_length_mm
    start = np.where(s > 0, -scoop.depth(s), course.nut_clearance_mm)
    rise = (course.over_chord_mm - start) / (length - s)
    b = rise + slope[None, :]
    a = start - rise * s + (depths[:-1] - slope * stations[:-1])[None, :]
    c = b * s * length + a * (length + s)
    with np.errstate(divide="ignore", invalid="ignore"):
        root = np.sqrt(a * a + b * c)
        inner = np.where(np.abs(b) > 1e-12, (root - a) / b, c / (2 * a))
    inner = np.where(np.isfinite(inner), inner, end)
    inner = np.clip(inner, stations[None, :-1], stations[None, 1:])
    found = np.concatenate((np.broadcast_to(stations[1:], inner.shape), inner), axis=1)
    return np.asarray(np.where(found > s + 1e-9, found, end))


def _margin(course: Course, stop_mm: Array, places: Array, plucked: bool, swing: Swing) -> Margin:
    """The least ratio over the candidate places and the limit at the finger."""
    moves = plucked_mm if plucked else bowed_mm
    length = course.string_length_mm
    if plucked:
        steep = swing.pluck_mm / pluck_place_mm(swing, course, stop_mm)
    else:
        steep = bow_constant(swing, course) * (length - stop_mm)
    column = stop_mm[:, None]
    rise = (course.over_chord_mm + course.scoop.depth(stop_mm)) / (length - stop_mm)
    at_finger = (rise + course.scoop.slope(stop_mm)) * square(course, stop_mm)
    with np.errstate(divide="ignore", invalid="ignore"):
        limit = np.where((stop_mm > 0) | (course.nut_clearance_mm <= 0), at_finger / steep, np.inf)
        ratio = room_mm(course, column, places) / moves(swing, course, column, places)
    best = np.argmin(ratio, axis=1)
    rows = np.arange(len(stop_mm))
    least, where = ratio[rows, best], places[rows, best]
    nearer = limit <= least
    at = np.where(nearer, stop_mm, where)
    place = np.minimum(np.maximum(at, stop_mm + PAST_FINGER), course.board_length_mm)
    spare = room_mm(course, stop_mm, place) - moves(swing, course, stop_mm, place)
    return Margin(np.where(nearer, limit, least), at, np.asarray(spare))


def margins(course: Course, swing: Swing, stop_mm: Array) -> tuple[Margin, Margin]:
    """Margins of one string, bowed and plucked, at each stop (0 is the open string).

    Parameters
    ----------
    course : the string over its board; swing : how it is played; stop_mm : (k,) places of the finger [mm].

    Returns
    -------
    (bowed, plucked), arrays of shape (k,).

    Raises
    ------
    Refusal
        A stop that is not on the board; a swing of nothing.

    The least ratio room / swing over s < x <= board's end; at the finger, where both vanish, the limit
    cos (m_s + scoop'(s)) / slope of the swing there, m_s the rise of the stopped string against the chord.
    On a measured profile the least of every straight piece is found in closed form.
    """
    s = np.asarray(stop_mm, dtype=np.float64)
    if s.size and (float(s.max()) >= course.board_length_mm or float(s.min()) < 0):
        raise Refusal("arithmetic.stop_off_board", value=float(s.max()), limit=course.board_length_mm)
    if bow_constant(swing, course) <= 0 or swing.pluck_mm <= 0:
        raise Refusal("arithmetic.no_swing")
    places = _places(course, s)
    apex = np.minimum(s + pluck_place_mm(swing, course, s), course.board_length_mm)
    places = np.concatenate((places, apex[:, None]), axis=1)
    return _margin(course, s, places, False, swing), _margin(course, s, places, True, swing)


def nut_floor_mm(course: Course, swing: Swing, end_clearance_mm: float) -> tuple[float, float]:
    """Least nut clearance at which the open string swings free: (bowed, plucked) [mm], not below zero.

    The clearance at the board's end stays; room(x) = c (1 - x/Lb) + s x/Lb + scoop(x), so
    c = max over x of (swing(x) / cos(x) - s x/Lb - scoop(x)) / (1 - x/Lb). No reserve is added.
    """
    end = course.board_length_mm
    x = np.linspace(0.0, end, 721)[1:-1]
    x = np.unique(np.concatenate((x, [p for p in course.scoop.station_mm if 0 < p < end])))
    least = []
    for moves in (bowed_mm, plucked_mm):
        need = moves(swing, course, 0.0, x) / square(course, x) - course.scoop.depth(x)
        least.append(max(0.0, float(((need - end_clearance_mm * x / end) / (1.0 - x / end)).max())))
    return least[0], least[1]
