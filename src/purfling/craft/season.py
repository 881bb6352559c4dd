"""Is it the season or has the neck dropped: two cards, and what the projection did between them."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from purfling.craft.refusals import Refusal


@dataclass(frozen=True)
class Between:
    """What changed from one card to the other [mm], each string; underside and upright.

    ``bridge_change_mm``: notch over the belly; zeros where the bridge stood untouched.
    """

    end_change_mm: tuple[float, ...]
    nut_change_mm: tuple[float, ...]
    bridge_change_mm: tuple[float, ...]
    string_length_mm: float
    board_length_mm: float
    slope_deg: float


@dataclass(frozen=True)
class Fall:
    """Change of the projection as the strings tell it [mm], negative lower, with one standard deviation."""

    each_mm: tuple[float, ...]
    projection_change_mm: float
    projection_change_error_mm: float
    spread_mm: float


def projection_change(
    between: Between, clearance_end_mm: float, clearance_nut_mm: float, bridge_error_mm: float
) -> Fall:
    """The identity s = c (1 - Lb/L) + (b - P) cos(theta) Lb/L solved for the change of P.

    Parameters
    ----------
    between : changes from the earlier card to the later; clearance_end_mm, clearance_nut_mm : gauge errors,
    one standard deviation of one reading; bridge_error_mm : that of one bridge height, 0 for an untouched
    bridge.

    dP = db - (ds - (1 - Lb/L) dc) L / (Lb cos(theta)); each change holds two readings. Reference:
    docs/setup-geometry.md.
    """
    u = between.board_length_mm / between.string_length_mm
    lift = 1.0 / (u * math.cos(math.radians(between.slope_deg)))
    each = [
        b - (s - (1.0 - u) * c) * lift
        for s, c, b in zip(
            between.end_change_mm, between.nut_change_mm, between.bridge_change_mm, strict=True
        )
    ]
    n = len(each)
    clearances = math.hypot(clearance_end_mm, (1.0 - u) * clearance_nut_mm) * lift
    # The mean of n strings: their clearances are read apart, the bridge at its two sides.
    error = math.sqrt(2.0) * math.hypot(clearances / math.sqrt(n), bridge_error_mm / math.sqrt(2.0))
    return Fall(tuple(each), sum(each) / n, error, max(each) - min(each))


@dataclass(frozen=True)
class Yearly:
    """An instrument's own projection against the wood's moisture: mm per per cent, error, residual, n."""

    mm_per_percent: float
    error: float
    residual_mm: float
    n: int


def yearly_swing(moisture_percent: Sequence[float], projection_mm: Sequence[float]) -> Yearly:
    """Least-squares line of projection against equilibrium moisture.

    Raises
    ------
    Refusal
        Fewer than two readings, or all at one moisture.
    """
    m, p = np.asarray(moisture_percent, dtype=np.float64), np.asarray(projection_mm, dtype=np.float64)
    if len(m) < 2 or float(np.ptp(m)) < 0.05:
        raise Refusal("arithmetic.few_years", value=len(m))
    spread = m - m.mean()
    square = float(spread @ spread)
    slope = float(spread @ (p - p.mean())) / square
    left = p - p.mean() - slope * spread
    free = len(m) - 2
    residual = math.sqrt(float(left @ left) / free) if free > 0 else math.inf
    return Yearly(slope, residual / math.sqrt(square), residual, len(m))
