"""Our own drawing of a bridge: an outline of cubic curves from the measures a maker has a word for."""

import math
from dataclasses import dataclass

import numpy as np

from purfling.craft.bridge.rings import Points, Rings, checked_rings
from purfling.craft.refusals import Refusal

SAMPLE = 0.1  # mm between the points of a curve, of a violin's bridge


@dataclass(frozen=True)
class OutlineMeasures:
    """The measures of the drawing, all in mm; the two halves are alike but for the crown's tilt.

    ``foot_span_mm`` outside to outside, ``foot_length_mm`` of one foot, ``foot_edge_mm`` height of a foot's
    outer end; ``ankle_mm`` least width of a leg and ``ankle_height_mm`` where; ``arch_mm`` height of the arch
    between the legs; ``hip_width_mm`` over the lower points beside the kidneys and ``hip_height_mm`` where;
    ``waist_mm`` least width between the kidneys and ``waist_height_mm`` where; ``kidney_mm`` height of a
    kidney's mouth; ``wing_width_mm`` over the upper points; ``heart_mm`` width, ``heart_tall_mm`` height and
    ``heart_height_mm`` lowest point of the heart; ``crown_radius_mm`` and ``crown_width_mm`` of the crown
    arc, ``height_mm`` of the crown at the middle, ``crown_tilt_mm`` how much higher the arc's bass end is.
    """

    foot_span_mm: float
    foot_length_mm: float
    foot_edge_mm: float
    ankle_mm: float
    ankle_height_mm: float
    arch_mm: float
    hip_width_mm: float
    hip_height_mm: float
    waist_mm: float
    waist_height_mm: float
    kidney_mm: float
    wing_width_mm: float
    heart_mm: float
    heart_tall_mm: float
    heart_height_mm: float
    crown_radius_mm: float
    crown_width_mm: float
    height_mm: float
    crown_tilt_mm: float


def _curve(
    a: tuple[float, float],
    b: tuple[float, float],
    c: tuple[float, float],
    d: tuple[float, float],
    step: float,
) -> Points:
    """A cubic curve with control points a b c d, its last point left out, shape (n, 2)."""
    length = math.dist(a, b) + math.dist(b, c) + math.dist(c, d)
    n = max(4, math.ceil(length / step))
    t = np.linspace(0.0, 1.0, n, endpoint=False)[:, None]
    s = 1.0 - t
    p, q, r, u = (np.array(v, dtype=float) for v in (a, b, c, d))
    return np.asarray(s**3 * p + 3 * s * s * t * q + 3 * s * t * t * r + t**3 * u)


def crown_height(m: OutlineMeasures, x: float) -> float:
    """Height of the crown arc over the foot line at x [mm]."""
    # the chord between the arc's ends falls by the tilt; its middle lies on the radius square to it
    angle = math.atan(m.crown_tilt_mm / m.crown_width_mm)
    half = math.hypot(m.crown_tilt_mm, m.crown_width_mm) / 2
    cx = -math.sqrt(max(m.crown_radius_mm**2 - half**2, 0.0)) * math.sin(angle)
    cy = m.height_mm - math.sqrt(m.crown_radius_mm**2 - cx**2)
    return cy + math.sqrt(max(m.crown_radius_mm**2 - (x - cx) ** 2, 0.0))


def _side(m: OutlineMeasures, crown_end: float, step: float) -> Points:
    """One side from the sole's outer corner up to the crown arc's end (x positive), last point left out."""
    toe = (m.foot_span_mm / 2, 0.0)
    toe_top = (m.foot_span_mm / 2 - 0.15 * m.foot_edge_mm, m.foot_edge_mm)
    middle = _ankle_middle(m)
    ankle = (middle + m.ankle_mm / 2, m.ankle_height_mm)
    hip = (m.hip_width_mm / 2, m.hip_height_mm)
    waist = (m.waist_mm / 2, m.waist_height_mm)
    low = m.waist_height_mm - 0.55 * m.kidney_mm
    high = m.waist_height_mm + 0.45 * m.kidney_mm
    nip = 0.06 * m.hip_width_mm / 2
    hip_tip = (hip[0] - nip, low)
    wing = (m.wing_width_mm / 2, high + 0.33 * (crown_end - high))
    wing_tip = (wing[0] - 0.11 * wing[0], high)
    end = (m.crown_width_mm / 2, crown_end)
    rise, drop = hip[1] - ankle[1], ankle[1] - toe_top[1]
    bay = hip_tip[0] - waist[0]
    reach = wing_tip[0] - waist[0]
    tip = low - hip[1]
    lift = wing[1] - high
    pieces = [
        _curve(toe, _mix(toe, toe_top, 1 / 3), _mix(toe, toe_top, 2 / 3), toe_top, step),
        _curve(
            toe_top,
            (toe_top[0] - 0.55 * (toe_top[0] - ankle[0]), toe_top[1] + 0.12 * drop),
            (ankle[0], ankle[1] - 0.7 * drop),
            ankle,
            step,
        ),
        _curve(ankle, (ankle[0], ankle[1] + 0.45 * rise), (hip[0], hip[1] - 0.45 * rise), hip, step),
        _curve(hip, (hip[0], hip[1] + 0.55 * tip), (hip_tip[0] + 0.55 * nip, low), hip_tip, step),
        _curve(
            hip_tip, (hip_tip[0] - 0.62 * bay, low), (waist[0], waist[1] - 0.36 * m.kidney_mm), waist, step
        ),
        _curve(
            waist,
            (waist[0], waist[1] + 0.30 * m.kidney_mm),
            (wing_tip[0] - 0.66 * reach, high),
            wing_tip,
            step,
        ),
        _curve(
            wing_tip,
            (wing_tip[0] + 0.6 * (wing[0] - wing_tip[0]), high),
            (wing[0], wing[1] - 0.55 * lift),
            wing,
            step,
        ),
        _curve(wing, (wing[0], wing[1] + 0.4 * (end[1] - wing[1])), _mix(wing, end, 0.7), end, step),
    ]
    return np.vstack(pieces)


def _mix(a: tuple[float, float], b: tuple[float, float], part: float) -> tuple[float, float]:
    return a[0] + (b[0] - a[0]) * part, a[1] + (b[1] - a[1]) * part


def _ankle_middle(m: OutlineMeasures) -> float:
    """Middle of a leg at the ankle: a little outside the middle of its foot."""
    return (m.foot_span_mm - m.foot_length_mm) / 2 - 0.03 * m.foot_length_mm


def _arch(m: OutlineMeasures, step: float) -> Points:
    """The treble half of the arch: from its top in the middle down to the sole's inner corner."""
    inner = m.foot_span_mm / 2 - m.foot_length_mm
    ankle = (_ankle_middle(m) - m.ankle_mm / 2, m.ankle_height_mm)
    heel_top = (inner + 0.15 * m.foot_edge_mm, m.foot_edge_mm)
    rise, drop = m.arch_mm - ankle[1], ankle[1] - heel_top[1]
    pieces = [
        _curve(
            (0.0, m.arch_mm), (0.62 * ankle[0], m.arch_mm), (ankle[0], ankle[1] + 0.55 * rise), ankle, step
        ),
        _curve(
            ankle,
            (ankle[0], ankle[1] - 0.7 * drop),
            (heel_top[0] + 0.5 * (ankle[0] - heel_top[0]), heel_top[1] + 0.12 * drop),
            heel_top,
            step,
        ),
        _curve(
            heel_top,
            _mix(heel_top, (inner, 0.0), 1 / 3),
            _mix(heel_top, (inner, 0.0), 2 / 3),
            (inner, 0.0),
            step,
        ),
    ]
    return np.vstack(pieces)


def _heart(m: OutlineMeasures, step: float) -> Points:
    """The heart, clockwise: a point below, two lobes above."""
    w, t = m.heart_mm / 2, m.heart_tall_mm
    foot = (0.0, m.heart_height_mm)
    flank = (w, m.heart_height_mm + 0.62 * t)
    dip = (0.0, m.heart_height_mm + 0.82 * t)
    right = np.vstack(
        [
            _curve(foot, (0.45 * w, foot[1] + 0.12 * t), (w, foot[1] + 0.32 * t), flank, step),
            _curve(flank, (w, flank[1] + 0.5 * t), (0.22 * w, dip[1] + 0.28 * t), dip, step),
        ]
    )
    left = np.vstack([[dip], right[:0:-1]]) * np.array([-1.0, 1.0])
    return np.vstack([right, left])[::-1].copy()


def drawn_outline(m: OutlineMeasures) -> Rings:
    """The rings of our drawing.

    Parameters
    ----------
    m : OutlineMeasures
        The measures [mm].

    Returns
    -------
    Rings
        Outline and heart, points every 0.1 mm (of a violin's bridge; in proportion for larger ones).

    Raises
    ------
    Refusal
        Measures that contradict each other (the outline would cross itself, the arc is too flat for its
        width).
    """
    step = SAMPLE * max(m.foot_span_mm / 41.0, 0.5)
    if m.crown_width_mm >= 2 * m.crown_radius_mm:
        raise Refusal("bridge.crown_too_wide", value=m.crown_width_mm, limit=2 * m.crown_radius_mm)
    half = m.crown_width_mm / 2
    treble, bass = crown_height(m, half), crown_height(m, -half)
    side_t = _side(m, treble, step)
    side_b = _side(m, bass, step) * np.array([-1.0, 1.0])
    n = max(8, math.ceil(m.crown_width_mm / step))
    xs = np.linspace(half, -half, n + 1)
    crown = np.array([[x, crown_height(m, float(x))] for x in xs])
    arch = _arch(m, step)
    sole_t = np.array([[m.foot_span_mm / 2 - m.foot_length_mm, 0.0]])
    arch_b = (arch * np.array([-1.0, 1.0]))[::-1]
    # counter-clockwise: treble side up, crown to the bass, bass side down, bass sole, arch, treble sole
    outer = np.vstack(
        [
            side_t,
            crown,
            side_b[::-1],
            sole_t * np.array([-1.0, 1.0]),
            arch_b[:-1],
            arch,
            sole_t,
        ]
    )
    return checked_rings(outer, (_heart(m, step),))
