"""Arcs, circles, places side by side."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import least_squares

from purfling.craft.geometry import circle_fit, sag, surface
from purfling.craft.refusals import Refusal
from purfling.craft.strings import gaps_even, lateral_places


def test_exact_arc_differs_from_its_parabola_by_0_377_at_the_board_edge() -> None:
    # sag(42, 21) = 42 - sqrt(42^2 - 21^2) = 5.627; the parabola 21^2 / 84 = 5.25.
    assert float(sag(42.0, 21.0)) - 21.0**2 / 84.0 == pytest.approx(0.377, abs=0.0005)


def test_equal_gaps_of_four_strings() -> None:
    # Span 16.5, diameters .80 .75 .68 .26: gap (16.5 - 1.43 - 0.53)/3 = 4.846..., by hand:
    # centres 0, 5.62, 11.18, 16.50 from the lowest.
    places = [p + 8.25 for p in gaps_even(16.5, (0.80, 0.75, 0.68, 0.26))]
    assert places == [pytest.approx(v, abs=0.005) for v in (0.0, 5.62, 11.18, 16.50)]


def test_mayson_spacings_of_1902() -> None:
    # W. H. Mayson, Violin Making (1902): three gaps of 7/32 in at the nut and of 7/16 in at the bridge.
    inch = 25.4
    nut = lateral_places(3 * 7 / 32 * inch, "centres", (0.8, 0.75, 0.68, 0.26))
    assert nut[1] - nut[0] == pytest.approx(5.56, abs=0.005)
    bridge = lateral_places(3 * 7 / 16 * inch, "centres", (0.8, 0.75, 0.68, 0.26))
    assert bridge[3] - bridge[0] == pytest.approx(33.34, abs=0.005)


@given(st.floats(20, 100), st.floats(-3, 3), st.floats(0, 100))
def test_a_circle_through_exact_points_is_found_again(radius: float, lateral: float, height: float) -> None:
    x = [-16.0, -5.0, 6.0, 15.0]
    z = [height + math.sqrt(radius**2 - (v - lateral) ** 2) for v in x]
    fit = circle_fit(x, z)
    assert fit.radius_mm == pytest.approx(radius, rel=1e-6)
    assert fit.lateral_mm == pytest.approx(lateral, abs=1e-5)


def test_circle_fit_is_the_geometric_one() -> None:
    x = np.array([-17.0, -5.5, 5.5, 17.0])
    z = np.array([30.1, 33.4, 32.6, 27.9])

    def distances(p: np.ndarray) -> np.ndarray:
        return np.hypot(x - p[0], z - p[1]) - p[2]

    oracle = least_squares(distances, [0.0, 0.0, 30.0], xtol=1e-14, ftol=1e-14, gtol=1e-14).x
    fit = circle_fit(list(x), list(z))
    assert (fit.lateral_mm, fit.height_mm, fit.radius_mm) == tuple(pytest.approx(v, abs=1e-5) for v in oracle)


def test_points_on_a_line_are_no_curve() -> None:
    with pytest.raises(Refusal, match="no_curve"):
        circle_fit([-1.0, 0.0, 1.0, 2.0], [1.0, 2.0, 3.0, 4.0])
    with pytest.raises(Refusal, match="curve_upwards"):
        circle_fit([-10.0, 0.0, 10.0], [5.0, 0.0, 5.0])


def test_flat_continues_the_arc_by_its_tangent() -> None:
    r = np.array([63.0])
    there = float(surface(r, np.array([-12.0]), 12.0)[0])
    just_beyond = float(surface(r, np.array([-12.001]), 12.0)[0])
    far = float(surface(r, np.array([-22.0]), 12.0)[0])
    slope = 12.0 / math.sqrt(63.0**2 - 12.0**2)
    assert just_beyond == pytest.approx(there - 0.001 * slope, abs=1e-9)
    assert far == pytest.approx(there - 10.0 * slope, abs=1e-9)
    assert far > -float(sag(63.0, 22.0))
