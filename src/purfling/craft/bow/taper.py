"""The taper law of 1856: points of the construction and its closed form."""

import math

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

CYLINDER_MM = 110.0
REACH_MM = 700.0
BUTT_ORDINATE_MM = 110.0
HEAD_ORDINATE_MM = 22.0
BUTT_MM = 8.6
STEP_MM = 0.3
POINTS = 12
# Where the slanting line of the construction would meet the stick: 700 * 110 / 88.
POLE_MM = REACH_MM * BUTT_ORDINATE_MM / (BUTT_ORDINATE_MM - HEAD_ORDINATE_MM)
SLOPE_MM = STEP_MM / math.log(POLE_MM / (POLE_MM - CYLINDER_MM))


def construction_points() -> list[tuple[float, float]]:
    """The twelve points (place from the butt, diameter) [mm] of the printed construction.

    Ordinates of 110 at the butt and 22 at the head, 700 apart, a straight line between; each ordinate's
    length is stepped along the stick, each step 0.3 thinner. Reference: Fetis 1856 after Vuillaume.
    """
    points, place = [], 0.0
    for n in range(POINTS):
        place += BUTT_ORDINATE_MM - (BUTT_ORDINATE_MM - HEAD_ORDINATE_MM) * place / REACH_MM
        points.append((place, BUTT_MM - STEP_MM * n))
    return points


def law_diameter(at_mm: Floats) -> Floats:
    """Diameter [mm] by the law at places from the butt [mm].

    Equation: 8.6 to x = 110, then 8.9 + 0.3 ln(1 - x/875) / ln(875/765). Exact through the twelve points.
    Validity: a violin stick, 0 to 700; nan from the pole at 875 on.
    """
    x = np.asarray(at_mm, dtype=float)
    inside = np.where(x < POLE_MM, 1.0 - x / POLE_MM, np.nan)
    return np.where(x <= CYLINDER_MM, BUTT_MM, BUTT_MM + STEP_MM + SLOPE_MM * np.log(inside))


def law_moments(end_mm: float) -> tuple[float, float]:
    """Integrals of d^2 and of x d^2 [mm3, mm4] from the butt to ``end_mm``, in closed form.

    Equation: with u = 1 - x/875, d = a + b ln u: antiderivatives of (a + b ln u)^2 and u (a + b ln u)^2.
    Validity: 0 <= end_mm < 875.
    """
    cylinder = min(end_mm, CYLINDER_MM)
    square = BUTT_MM**2 * cylinder
    first = BUTT_MM**2 * cylinder**2 / 2.0
    if end_mm <= CYLINDER_MM:
        return square, first
    a, b = BUTT_MM + STEP_MM, SLOPE_MM

    def both(u: float) -> tuple[float, float]:
        log = math.log(u)
        plain = u * (a * a - 2 * a * b + 2 * b * b + (2 * a * b - 2 * b * b) * log + b * b * log * log)
        weighed = u * u / 2 * (a * a - a * b + b * b / 2 + (2 * a * b - b * b) * log + b * b * log * log)
        return plain, weighed

    low, high = both(1 - end_mm / POLE_MM), both(1 - CYLINDER_MM / POLE_MM)
    plain, weighed = high[0] - low[0], high[1] - low[1]
    return square + POLE_MM * plain, first + POLE_MM**2 * (plain - weighed)
