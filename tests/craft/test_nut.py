"""The nut's grooves: a maker's page and the worked gaps, then laws."""

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from purfling.craft.nut import gap_mm, grooves
from purfling.craft.refusals import Refusal

VIOLIN = (0.80, 0.75, 0.68, 0.26)


def test_cello_blank_height_of_a_makers_page() -> None:
    # A maker's page on cello nut grooves: C 1.7 mm, groove a third (taken as 0.6), clearance 0.75: 1.35 over
    # the board. The exact third gives 1.317; the page rounds its third up by 0.033.
    low, *_, high = grooves(22.0, (1.7, 1.2, 1.0, 0.65), (0.75, 0.66, 0.58, 0.50), None, 0.0)
    assert low.crown_mm == pytest.approx(0.75 + 1.7 / 3)
    assert low.crown_mm == pytest.approx(1.35, abs=0.035)
    assert high.crown_mm == pytest.approx(0.50 + 0.65 / 3)


def test_q16_equal_gaps_of_a_violin_nut() -> None:
    # Span 16.5, diameters .80 .75 .68 .26: centres 0, 5.62, 11.18, 16.50; equal centres would be 5.50 apart.
    made = grooves(16.5, VIOLIN, (0.45, 0.4, 0.35, 0.3), None, 0.0)
    places = [g.gaps_mm + 8.25 for g in made]
    assert places == pytest.approx([0.0, 5.62, 11.18, 16.50], abs=0.005)
    even = [g.centres_mm + 8.25 for g in made]
    assert even == pytest.approx([0.0, 5.5, 11.0, 16.5])


def test_neighbours_5_5_apart_are_the_published_spacing() -> None:
    # A maker's page on neck and board: outer strings 16.5 apart, neighbours 5.5; Mayson 1902: 3 x 7/32 in.
    made = grooves(16.5, VIOLIN, (0.4,) * 4, None, 0.0)
    assert made[1].centres_mm - made[0].centres_mm == pytest.approx(5.5)
    inch = grooves(3 * 7 / 32 * 25.4, VIOLIN, (0.4,) * 4, None, 0.0)
    assert inch[1].centres_mm - inch[0].centres_mm == pytest.approx(7 / 32 * 25.4)


@given(st.lists(st.floats(0.2, 1.8), min_size=3, max_size=6), st.floats(15.0, 30.0))
def test_gaps_are_equal_and_fill_the_span(diameters: list[float], spacing: float) -> None:
    n = len(diameters)
    made = grooves(spacing, diameters, (0.4,) * n, None, 0.0)
    free = [
        b.gaps_mm - b.diameter_mm / 2 - a.gaps_mm - a.diameter_mm / 2 for a, b in itertools.pairwise(made)
    ]
    assert max(free) - min(free) < 1e-9
    assert free[0] == pytest.approx(gap_mm(spacing, diameters))
    assert made[-1].gaps_mm - made[0].gaps_mm == pytest.approx(spacing)


@given(st.lists(st.floats(0.2, 1.8), min_size=4, max_size=4), st.floats(15.0, 30.0))
def test_a_mirror_image_has_mirrored_grooves(diameters: list[float], spacing: float) -> None:
    made = grooves(spacing, diameters, (0.4,) * 4, None, 0.0)
    other = grooves(spacing, diameters[::-1], (0.4,) * 4, None, 0.0)
    for a, b in zip(made, reversed(other), strict=True):
        assert a.gaps_mm == pytest.approx(-b.gaps_mm, abs=1e-12)


def test_a_soft_nut_keeps_its_bedding_and_a_low_one_cannot_be_filed() -> None:
    made = grooves(16.5, VIOLIN, (0.5, 0.4, 0.35, 0.3), (0.4,) * 4, 0.05, width_nut_mm=24.0)
    assert made[0].file_to_mm == pytest.approx(0.45)
    assert made[0].cut_mm == pytest.approx(0.05)
    assert made[3].cut_mm == pytest.approx(-0.15)
    assert made[0].edge_margin_gaps_mm == pytest.approx(12.0 - 8.25 - 0.4)
    assert made[3].edge_margin_centres_mm == pytest.approx(12.0 - 8.25 - 0.13)


def test_without_a_wish_nothing_is_filed() -> None:
    assert {g.cut_mm for g in grooves(16.5, VIOLIN, (0.4,) * 4, None, 0.05)} == {None}


def test_strings_without_a_gap_are_refused() -> None:
    with pytest.raises(Refusal, match="no_gap"):
        grooves(3.0, (1.7, 1.5, 1.2, 0.9), (0.4,) * 4, None, 0.0)
