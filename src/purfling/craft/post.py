"""The sound post: what a move does to its length and its ends."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from purfling.craft.refusals import Refusal

SLOPE_ERROR = 0.5  # degrees, one standard deviation of a slope taken from a template: shop's own
PLACE_ERROR = 0.3  # mm, of the post's place


@dataclass(frozen=True)
class Slopes:
    """Slopes of the inner faces at the post [degrees]; positive where the plates come together.

    ``across``: towards the outside of the body; ``along``: towards the tail.
    """

    top_across_deg: float = 0.0
    back_across_deg: float = 0.0
    top_along_deg: float = 0.0
    back_along_deg: float = 0.0

    @property
    def across(self) -> float:
        """Both plates together, rise over run towards the outside."""
        return math.tan(math.radians(self.top_across_deg)) + math.tan(math.radians(self.back_across_deg))

    @property
    def along(self) -> float:
        """Both plates together, rise over run towards the tail."""
        return math.tan(math.radians(self.top_along_deg)) + math.tan(math.radians(self.back_along_deg))


@dataclass(frozen=True)
class Fit:
    """A length that fitted at a place; the place against where the post stands now [mm]."""

    outward_mm: float
    back_mm: float
    length_mm: float


@dataclass(frozen=True)
class PostMove:
    """What a move does.

    ``length_change_mm``: change of the length that fits there, negative where the same post becomes too
    long; ``top_turn_deg`` and ``back_turn_deg``: change of the end angles (across, along).
    """

    length_change_mm: float
    length_change_error_mm: float
    top_turn_deg: tuple[float, float]
    back_turn_deg: tuple[float, float]


def move_by_slopes(outward_mm: float, back_mm: float, here: Slopes, there: Slopes | None = None) -> PostMove:
    """A move over given slopes: -outward (tan a_top + tan a_back) - back (the same along) [mm].

    Parameters
    ----------
    outward_mm : towards the outside; back_mm : towards the tail; here : slopes where the post stands;
    there : slopes where it shall stand (the mean of the two is used), or None for the same.

    Outward the plates come together, so the same post becomes too long.
    """
    new = here if there is None else there
    across, along = (here.across + new.across) / 2, (here.along + new.along) / 2
    change = -outward_mm * across - back_mm * along
    steep = math.radians(SLOPE_ERROR) * math.sqrt(2.0)
    error = math.hypot(steep * math.hypot(outward_mm, back_mm), PLACE_ERROR * math.hypot(across, along))
    return PostMove(
        change,
        error,
        (new.top_across_deg - here.top_across_deg, new.top_along_deg - here.top_along_deg),
        (new.back_across_deg - here.back_across_deg, new.back_along_deg - here.back_along_deg),
    )


def slopes_of_fits(fits: Sequence[Fit]) -> tuple[float, float, float, int]:
    """Least-squares plane through fitted lengths: (slope outward, slope back, residual [mm], rank).

    length = c + outward * slope_out + back * slope_back. Directions in which no two fits differ have slope 0
    and lower the rank.

    Raises
    ------
    Refusal
        Fewer than two fits.
    """
    if len(fits) < 2:
        raise Refusal("arithmetic.few_fits", value=len(fits))
    rows = np.array([[f.outward_mm, f.back_mm] for f in fits])
    lengths = np.array([f.length_mm for f in fits])
    middle = rows.mean(axis=0)
    slope, _, rank, _ = np.linalg.lstsq(rows - middle, lengths - lengths.mean(), rcond=1e-9)
    left = lengths - lengths.mean() - (rows - middle) @ slope
    return float(slope[0]), float(slope[1]), float(np.abs(left).max()), int(rank)


def move_by_fits(outward_mm: float, back_mm: float, fits: Sequence[Fit]) -> PostMove:
    """A move by lengths that fitted at two or more places.

    Raises
    ------
    Refusal
        The move leaves the line on which all fits lie.
    """
    out, back, residual, rank = slopes_of_fits(fits)
    rows = np.array([[f.outward_mm, f.back_mm] for f in fits])
    spread = rows - rows.mean(axis=0)
    move = np.array([outward_mm, back_mm])
    if rank < 2:
        direction = spread[int(np.argmax((spread**2).sum(axis=1)))]
        off = move[0] * direction[1] - move[1] * direction[0]
        if rank == 0 or abs(off) > 1e-6 * float(np.hypot(*direction)) * max(float(np.hypot(*move)), 1e-9):
            raise Refusal("arithmetic.fits_on_a_line", value=len(fits))
    change = outward_mm * out + back_mm * back
    error = math.hypot(residual, PLACE_ERROR * math.hypot(out, back))
    return PostMove(change, error, (0.0, 0.0), (0.0, 0.0))


def edge_difference_mm(diameter_mm: float, slope_deg: float) -> float:
    """Difference of length between the two sides of a post on a slope: d tan(a) [mm]."""
    return diameter_mm * math.tan(math.radians(slope_deg))


def season_slope(humidity_percent: Sequence[float], fit_mm: Sequence[float]) -> tuple[float, float]:
    """Fitted length against room humidity: (mm per per cent, standard error) by least squares.

    Raises
    ------
    Refusal
        Fewer than two readings, or all at one humidity.
    """
    h, f = np.asarray(humidity_percent, dtype=np.float64), np.asarray(fit_mm, dtype=np.float64)
    if len(h) < 2 or float(np.ptp(h)) == 0.0:
        raise Refusal("arithmetic.few_seasons", value=len(h))
    spread = h - h.mean()
    square = float(spread @ spread)
    slope = float(spread @ (f - f.mean())) / square
    left = f - f.mean() - slope * spread
    error = math.sqrt(float(left @ left) / (len(h) - 2) / square) if len(h) > 2 else math.inf
    return slope, error
