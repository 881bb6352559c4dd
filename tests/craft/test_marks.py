"""Marks over the years: what is new, what only looks new, what grew beyond the error of the rule."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from purfling.craft.marks import KINDS, group_of, growth, kinds_for, standing


@pytest.mark.parametrize(
    ("number", "age", "gone", "before", "wanted"),
    [
        (1, "old", False, None, "first"),
        (1, "new", False, None, "first"),
        (1, "old", False, frozenset({1}), "known"),
        (2, "new", False, frozenset({1}), "new"),
        (2, "uncovered", False, frozenset({1}), "uncovered"),
        (2, "old", False, frozenset({1}), "overlooked"),
        (1, "new", True, frozenset({1}), "gone"),
    ],
)
def test_how_a_mark_stands(number, age, gone, before, wanted):
    assert standing(number, age, gone, before) == wanted


@given(st.lists(st.floats(1, 200), min_size=2, max_size=9), st.floats(0.1, 3))
def test_the_slope_is_that_of_an_independent_fit(lengths, error):
    years = [2020.0 + 0.7 * i for i in range(len(lengths))]
    found = growth(years, lengths, error)
    assert found.per_year_mm == pytest.approx(np.polyfit(np.array(years) - 2020, lengths, 1)[0], abs=1e-6)
    assert found.change_error_mm == pytest.approx(math.hypot(error, error))


def test_a_change_within_the_error_is_no_growth():
    # two readings of +-0.1 differ by +-0.14: 0.2 is within twice that, 0.3 beyond
    assert not growth([0.0, 1.0], [10.0, 10.2], 0.1).grew
    assert growth([0.0, 1.0], [10.0, 10.3], 0.1).grew
    assert not growth([0.0, 1.0], [10.3, 10.0], 0.1).grew
    assert growth([0.0], [10.0]).per_year_mm is None


def test_every_kind_has_its_family_and_its_words_in_both_languages():
    from purfling.words import say

    for is_bow in (False, True):
        for group, kinds in kinds_for(is_bow):
            for kind in kinds:
                assert kind == "other" or group_of(kind) in KINDS
                assert say(f"marks.kind_{kind}", "en") and say(f"marks.kind_{kind}", "de")
            assert say(f"marks.group_{group}", "de")
    assert group_of("open_seam") == "joint"
