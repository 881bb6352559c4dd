"""The sound post: the worked figures and the second wrong sign by name, then laws."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from purfling.craft.post import (
    Fit,
    Slopes,
    edge_difference_mm,
    move_by_fits,
    move_by_slopes,
    season_slope,
    slopes_of_fits,
)
from purfling.craft.refusals import Refusal

angles = st.floats(-8.0, 8.0)
moves = st.floats(-3.0, 3.0)


@pytest.mark.parametrize(("top", "back", "expected"), [(4.0, 3.0, -0.25), (6.0, 4.0, -0.35)])
def test_q9_two_millimetres_outward(top: float, back: float, expected: float) -> None:
    found = move_by_slopes(2.0, 0.0, Slopes(top, back))
    assert found.length_change_mm == pytest.approx(expected, abs=0.0055)


def test_q9_wrong_sign_trap_outward_the_post_becomes_too_long_and_inward_too_short() -> None:
    slopes = Slopes(4.0, 3.0)
    assert (
        move_by_slopes(2.0, 0.0, slopes).length_change_mm < -0.2
    )  # what fits is shorter: the post is too long
    assert move_by_slopes(-2.0, 0.0, slopes).length_change_mm > 0.2


def test_the_gap_between_two_arches_is_what_the_slopes_say() -> None:
    # Independent way: two circular arches, radius 160 and 190, 60 mm apart in the middle; their gap
    # at two places against the slopes of the arches there.
    def gap(y: float) -> float:
        return 60.0 - (160.0 - math.sqrt(160.0**2 - y * y)) - (190.0 - math.sqrt(190.0**2 - y * y))

    def slopes(y: float) -> Slopes:
        return Slopes(math.degrees(math.asin(y / 160.0)), math.degrees(math.asin(y / 190.0)))

    found = move_by_slopes(2.0, 0.0, slopes(18.0), slopes(20.0))
    assert found.length_change_mm == pytest.approx(gap(20.0) - gap(18.0), abs=2e-5)
    assert found.top_turn_deg[0] == pytest.approx(math.degrees(math.asin(20 / 160) - math.asin(18 / 160)))


@given(moves, moves, angles, angles, angles, angles)
def test_the_way_back_gives_the_length_back(
    out: float, back: float, a: float, b: float, c: float, d: float
) -> None:
    here, there = Slopes(a, b, c, d), Slopes(b, a, d, c)
    forth = move_by_slopes(out, back, here, there)
    home = move_by_slopes(-out, -back, there, here)
    assert forth.length_change_mm == pytest.approx(-home.length_change_mm, abs=1e-12)
    assert forth.top_turn_deg[0] == pytest.approx(-home.top_turn_deg[0])


@given(moves, moves, angles, angles, angles, angles)
def test_fits_on_two_planes_give_the_slopes_answer(
    out: float, back: float, a: float, b: float, c: float, d: float
) -> None:
    slopes = Slopes(a, b, c, d)
    fits = [
        Fit(x, z, 53.0 + move_by_slopes(x, z, slopes).length_change_mm)
        for x, z in ((0, 0), (2, 0), (0, 3), (1, -1))
    ]
    found = move_by_fits(out, back, fits)
    assert found.length_change_mm == pytest.approx(
        move_by_slopes(out, back, slopes).length_change_mm, abs=1e-9
    )


def test_two_fits_tell_their_own_direction_and_no_other() -> None:
    fits = [Fit(0.0, 0.0, 53.0), Fit(2.0, 0.0, 52.75)]
    assert move_by_fits(1.0, 0.0, fits).length_change_mm == pytest.approx(-0.125)
    with pytest.raises(Refusal, match="fits_on_a_line"):
        move_by_fits(1.0, 0.5, fits)
    with pytest.raises(Refusal, match="few_fits"):
        slopes_of_fits(fits[:1])


def test_edge_difference_is_diameter_times_slope() -> None:
    assert edge_difference_mm(6.2, 4.0) == pytest.approx(6.2 * 0.0699, abs=0.001)


def test_season_against_an_independent_fit() -> None:
    h, f = [33.0, 62.0, 36.0, 58.0], [53.05, 53.42, 53.10, 53.35]
    slope, error = season_slope(h, f)
    coefficients, covariance = np.polyfit(h, f, 1, cov="unscaled")
    left = np.array(f) - np.polyval(coefficients, h)
    assert slope == pytest.approx(coefficients[0])
    assert error == pytest.approx(math.sqrt(covariance[0, 0] * float(left @ left) / 2))
    with pytest.raises(Refusal, match="few_seasons"):
        season_slope([40.0, 40.0], [53.0, 53.1])


def test_error_of_a_move_against_a_simulation() -> None:
    # Monte Carlo over the same errors, 20,000 draws: 0.5 % each; first order against it within 5 %.
    rng = np.random.default_rng(3)
    drawn = []
    for _ in range(20000):
        a, b = 4.0 + 0.5 * rng.standard_normal(), 3.0 + 0.5 * rng.standard_normal()
        drawn.append(move_by_slopes(2.0 + 0.3 * rng.standard_normal(), 0.0, Slopes(a, b)).length_change_mm)
    found = move_by_slopes(2.0, 0.0, Slopes(4.0, 3.0))
    assert found.length_change_error_mm == pytest.approx(float(np.std(drawn)), rel=0.05)
