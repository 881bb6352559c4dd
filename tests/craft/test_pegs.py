"""Pegs: published tapers and the worked travels, then laws."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from purfling.craft.pegs import Peg, PegLimits, included_angle_deg, peg_wear, travel_mm

LIMITS = PegLimits(9.0, 8.0, 3.0)


@pytest.mark.parametrize(
    ("wear", "taper", "expected"),
    [(0.10, 30.0, 3.0), (0.10, 25.0, 2.5), (0.25, 30.0, 7.5), (0.10, 20.0, 2.0)],
)
def test_q8_travel(wear: float, taper: float, expected: float) -> None:
    # Tapers 1:30 (violin, viola), 1:25 (cello), 1:20 (19th century and before): an encyclopaedia's article on
    # tuning pegs and a cello maker's page.
    assert travel_mm(wear, taper) == pytest.approx(expected)


@pytest.mark.parametrize(("taper", "angle"), [(30.0, 1.910), (25.0, 2.292), (20.0, 2.864)])
def test_included_angles(taper: float, angle: float) -> None:
    assert included_angle_deg(taper) == pytest.approx(angle, abs=0.0005)


def test_travel_is_where_the_cone_fits_the_larger_hole() -> None:
    # Independent way: along a cone of half angle atan(1/60) the diameter grows by the wear over the travel.
    half = math.radians(included_angle_deg(30.0) / 2)
    assert 2 * travel_mm(0.1, 30.0) * math.tan(half) == pytest.approx(0.1)


def test_a_peg_seats_in_the_0_15_inch_that_a_page_leaves_for_it() -> None:
    # A maker's page leaves the end 0.15 in (3.8 mm) short to seat in: at 1:30 0.127 mm on the diameter.
    assert travel_mm(0.15 * 25.4 / 30, 30.0) == pytest.approx(3.81)


def test_the_first_limit_counts() -> None:
    by_hole = peg_wear(Peg(8.9, 12.0, 10.0), 0.05, 30.0, LIMITS)
    assert (by_hole.limited_by, by_hole.wear_left_mm) == ("hole", pytest.approx(0.05))
    by_standout = peg_wear(Peg(8.0, 9.5, 10.0), 0.0, 30.0, LIMITS)
    assert (by_standout.limited_by, by_standout.wear_left_mm) == ("standout", pytest.approx(0.05))
    by_cheek = peg_wear(Peg(8.0, 12.0, 4.5), 0.1, 30.0, LIMITS)
    assert by_cheek.limited_by == "cheek" and by_cheek.wear_left_mm == pytest.approx(-0.05)
    assert peg_wear(Peg(8.0), 0.0, 30.0, LIMITS).limited_by == "hole"


@given(st.floats(7.0, 9.5), st.floats(0.0, 0.4), st.floats(0.0, 0.4))
def test_two_wears_are_one(diameter: float, one: float, other: float) -> None:
    both = peg_wear(Peg(diameter, 12.0, 10.0), one + other, 30.0, LIMITS)
    first = peg_wear(Peg(diameter, 12.0, 10.0), one, 30.0, LIMITS)
    second = peg_wear(Peg(first.diameter_mm, first.standout_mm, first.hole_to_cheek_mm), other, 30.0, LIMITS)
    assert second.wear_left_mm == pytest.approx(both.wear_left_mm, abs=1e-12)
    assert second.standout_mm == pytest.approx(both.standout_mm)
    assert both.wear_left_mm <= first.wear_left_mm
