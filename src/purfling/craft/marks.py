"""Marks over the years: what is new since the last survey, what grew, by how much more than the rule errs."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

Standing = Literal["first", "known", "new", "uncovered", "overlooked", "gone"]
Age = Literal["old", "new", "uncovered"]

# Families of kinds, each drawn in its own way; the kinds of the trade under them, of our own choice.
KINDS: dict[str, tuple[str, ...]] = {
    "edge": ("bump", "chip", "scratch", "wear", "groove", "missing", "stain", "worm"),
    "crack": (
        "crack",
        "crack_post",
        "crack_bar",
        "crack_wing",
        "crack_saddle",
        "crack_edge",
        "crack_rib",
        "crack_cheek",
        "crack_button",
    ),
    "joint": ("open_seam", "open_joint", "loose_lining", "loose_board", "loose_part"),
    "varnish": ("varnish_loss", "craquelure", "crust", "print", "overvarnish", "retouch"),
    "shape": ("deformation", "sunk", "worn_hole"),
    "earlier": ("patch", "cleats", "bushing", "graft", "new_wood", "glued_crack"),
    "bow": (
        "head_crack",
        "thumb_wear",
        "lapping_worn",
        "plate_broken",
        "mortise_crack",
        "pearl_worn",
        "hair_uneven",
        "bent",
    ),
}
OTHER = "other"
# A length read with a flexible rule along an edge: one standard deviation [mm], common practice, no source.
LENGTH_ERROR_MM = 0.5


def group_of(kind: str) -> str:
    """The family of a kind; ``edge`` for what has none."""
    return next((group for group, kinds in KINDS.items() if kind in kinds), "edge")


def kinds_for(is_bow: bool) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """The glossary for a bow or for an instrument: families with their kinds, ``other`` at the end."""
    left_out = ("shape", "earlier", "joint") if is_bow else ("bow",)
    found = [(g, k) for g, k in KINDS.items() if g not in left_out]
    if is_bow:
        found[0] = ("edge", (*found[0][1], "loose_part"))
        found = [(g, ("crack",) if g == "crack" else k) for g, k in found]
    return (*found, ("edge", (OTHER,)))


def standing(number: int, age: Age, gone: bool, before: frozenset[int] | None) -> Standing:
    """How a mark stands against the survey before.

    Parameters
    ----------
    number : int
        The mark's own number on this object, kept over all visits.
    age : "old", "new" or "uncovered"
        As judged now: fresh, old, or shown by cleaning.
    gone : bool
        It is not there any more.
    before : frozenset of int, or None
        Numbers on the survey of the last visit; None where there was none.

    Returns
    -------
    "new" only for what was not on the chart before, is not old and was not uncovered.
    """
    if gone:
        return "gone"
    if before is None:
        return "first"
    if number in before:
        return "known"
    return {"new": "new", "uncovered": "uncovered", "old": "overlooked"}[age]  # type: ignore[return-value]


@dataclass(frozen=True)
class Growth:
    """What a length did over time.

    ``change_mm`` from the first to the last reading with its error, ``per_year_mm`` the slope of the straight
    line of least squares, ``grew`` whether the change is more than twice its error.
    """

    n: int
    change_mm: float
    change_error_mm: float
    per_year_mm: float | None
    grew: bool


def growth(years: Sequence[float], length_mm: Sequence[float], error_mm: float = LENGTH_ERROR_MM) -> Growth:
    """Growth of a crack or an area from its readings.

    Parameters
    ----------
    years : n numbers, the moments [years], rising.
    length_mm : n numbers, the readings (an area in mm2 serves as well).
    error_mm : error of one reading, one standard deviation.

    Equation
    --------
    d = l_n - l_1, its error sqrt(2) e; a change is called growth beyond 2 sqrt(2) e. Slope: least squares.
    """
    n = len(length_mm)
    if n < 2:
        return Growth(n, 0.0, math.sqrt(2.0) * error_mm, None, False)
    change = length_mm[-1] - length_mm[0]
    error = math.sqrt(2.0) * error_mm
    middle = sum(years) / n
    spread = sum((t - middle) ** 2 for t in years)
    slope = None
    if spread > 1e-9:
        slope = sum((t - middle) * y for t, y in zip(years, length_mm, strict=True)) / spread
    return Growth(n, change, error, slope, change > 2.0 * error)
