"""n, median and 80 % value of the shop's own log, against independent libraries."""

import statistics

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from purfling.planning.own_log import log_figures, season, stepped_back

MINUTES = st.lists(st.floats(1, 5000, allow_nan=False), min_size=5, max_size=60)


@given(MINUTES)
def test_median_and_80_against_the_standard_library_and_numpy(values):
    found = log_figures(values)
    assert found.n == len(values) and not found.too_few
    assert found.median == pytest.approx(statistics.median(values))
    assert found.most_80 == pytest.approx(np.quantile(values, 0.8, method="linear"))


@pytest.mark.parametrize("n", range(5))
def test_below_five_nothing_is_said(n):
    found = log_figures([30.0] * n)
    assert (found.n, found.median, found.most_80, found.too_few) == (n, None, None, True)
    assert stepped_back(40.0, found.median, found.n) == 40.0


@given(st.floats(5, 300), st.floats(5, 300), st.integers(5, 5000))
def test_the_default_steps_back_as_the_log_grows(default, own, n):
    now, later = (stepped_back(default, own, k) for k in (n, n + 1))
    assert min(default, own) - 1e-9 <= now <= max(default, own) + 1e-9
    assert abs(later - own) <= abs(now - own) + 1e-9
    assert stepped_back(default, own, 10**9) == pytest.approx(own)


def test_a_log_of_five_weighs_as_much_as_the_default():
    assert stepped_back(40.0, 60.0, 5) == 50.0


def test_seasons():
    assert [season(m) for m in (12, 1, 2, 3, 6, 9, 11)] == [
        "winter",
        "winter",
        "winter",
        "spring",
        "summer",
        "autumn",
        "autumn",
    ]
