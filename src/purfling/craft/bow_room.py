"""The bow's room: string planes, the middle strings over their neighbours, the waist's edges."""

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

from purfling.craft.geometry import FittedCircle, circle_fit
from purfling.craft.refusals import Refusal


@dataclass(frozen=True)
class MiddleRoom:
    """A middle string between its neighbours: height over their chord [mm], and the tilt it leaves the bow.

    ``tilt_deg``: between the two double-stop planes on either side of it.
    """

    over_chord_mm: float
    tilt_deg: float


@dataclass(frozen=True)
class EdgeRoom:
    """Bow line of an outer string against the waist's edge.

    ``line_deg``: fall of the string's plane to the outside; ``edge_clearance_mm``: edge to the line, square
    to it; ``edge_angle_deg``: how far the bow may still tip before it touches.
    """

    line_deg: float
    edge_clearance_mm: float
    edge_angle_deg: float


@dataclass(frozen=True)
class BowRoom:
    """Angles are falls to the bass, degrees: negative on the bass side of the crown.

    ``plane_deg``: tangent of the curve at each string; ``step_deg``: between neighbours, with their
    ``mean_step_deg``; ``chord_deg``: double-stop planes.
    """

    curve: FittedCircle
    plane_deg: tuple[float, ...]
    step_deg: tuple[float, ...]
    mean_step_deg: float
    chord_deg: tuple[float, ...]
    middle: tuple[MiddleRoom, ...]


def bow_room(lateral_mm: Sequence[float], height_mm: Sequence[float]) -> BowRoom:
    """Planes and rooms of strings at their places over the bridge, lowest first.

    Parameters
    ----------
    lateral_mm, height_mm : n >= 3 places and heights [mm], bass negative.

    Raises
    ------
    Refusal
        Strings on a line or curving upwards; a string outside its own curve.
    """
    curve = circle_fit(lateral_mm, height_mm)
    planes = []
    for y in lateral_mm:
        share = (y - curve.lateral_mm) / curve.radius_mm
        if abs(share) >= 1.0:
            raise Refusal("setup.outside_curve", value=y, limit=curve.radius_mm)
        planes.append(math.degrees(math.asin(share)))
    pairs = list(zip(lateral_mm, height_mm, strict=True))
    chords = [-math.degrees(math.atan2(b[1] - a[1], b[0] - a[0])) for a, b in itertools.pairwise(pairs)]
    steps = [b - a for a, b in itertools.pairwise(planes)]
    middle = []
    for i in range(1, len(pairs) - 1):
        (y0, z0), (y1, z1), (y2, z2) = pairs[i - 1 : i + 2]
        chord = z0 + (z2 - z0) * (y1 - y0) / (y2 - y0)
        middle.append(MiddleRoom(z1 - chord, chords[i] - chords[i - 1]))
    mean = (planes[-1] - planes[0]) / (len(planes) - 1)
    return BowRoom(curve, tuple(planes), tuple(steps), mean, tuple(chords), tuple(middle))


def edge_room(
    lateral_mm: float, level_mm: float, fall_deg: float, half_width_mm: float, edge_height_mm: float
) -> EdgeRoom:
    """Bow line of an outer string, falling to the outside, against the waist's edge on its side.

    Parameters
    ----------
    lateral_mm : the string's distance from the middle, positive; level_mm : its height where the bow goes;
    fall_deg : fall of its plane; half_width_mm, edge_height_mm : the edge, heights over the same plane.

    Raises
    ------
    Refusal
        An edge inside the string, or above it.
    """
    run = half_width_mm - lateral_mm
    drop = level_mm - edge_height_mm
    if run <= 0:
        raise Refusal("arithmetic.waist_inside", value=half_width_mm, limit=round(lateral_mm, 2))
    if drop <= 0:
        raise Refusal("arithmetic.waist_above", value=edge_height_mm, limit=round(level_mm, 2))
    fall = math.radians(fall_deg)
    clearance = (drop - run * math.tan(fall)) * math.cos(fall)
    return EdgeRoom(fall_deg, clearance, math.degrees(math.atan2(drop, run)) - fall_deg)


def sagitta_mm(radius_mm: float, spacing_mm: float, n: int = 4) -> float:
    """Room of the second string over its neighbours' chord on a symmetric curve of n even strings [mm]."""
    step = spacing_mm / (n - 1)
    y = [-spacing_mm / 2 + i * step for i in range(3)]
    z = [math.sqrt(radius_mm**2 - v * v) for v in y]
    return z[1] - (z[0] + z[2]) / 2
