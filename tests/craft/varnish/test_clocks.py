"""Drying clocks: planted medians come back, too few are said, nothing crosses recipe or cabinet."""

import random
import statistics

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from purfling.craft.refusals import Refusal
from purfling.craft.varnish.clocks import Dried, clock, clock_for, recipe_kinds, stated_hours

hours = st.floats(0.01, 1000)


@given(st.lists(hours, min_size=5, max_size=60))
def test_median_and_80_percent_against_two_libraries(log):
    found = clock(log)
    assert found.n == len(log)
    assert found.median_hours == pytest.approx(statistics.median(log))
    assert found.most_hours == pytest.approx(float(np.quantile(log, 0.8, method="inverted_cdf")))
    assert found.median_hours <= found.most_hours <= max(log)


@given(st.lists(hours, max_size=4))
def test_below_five_there_is_no_figure(log):
    found = clock(log)
    assert (found.median_hours, found.most_hours, found.status) == (None, None, "estimate")
    assert (found.warnings[0].code, found.warnings[0].params["n"]) == ("varnish.too_few", len(log))


def test_the_log_of_a_shop_gives_back_what_was_planted():
    """200 lognormal coats with a planted median of 18 h; the median of n has a spread of 1.25 s / sqrt(n)."""
    dice = random.Random(5)
    log = [Dried(18.0 * dice.lognormvariate(0.0, 0.25), "spirit 4", 1, 50.0, 20.0) for _ in range(200)]
    found = clock_for(log, Dried(0, "spirit 4", 1, 50.0, 20.0))
    assert found.n == 200
    assert found.median_hours == pytest.approx(18.0, rel=3 * 1.25 * 0.25 / 200**0.5)
    # The 80 % point of that law: 18 exp(0.25 x 0.8416), normal table.
    assert found.most_hours == pytest.approx(18.0 * 1.2342, rel=0.08)


def test_two_planted_recipes_two_cabinets_two_seasons_are_kept_apart():
    log = []
    for recipe, cabinet, humidity, median in (
        ("a", False, 40, 20.0),
        ("a", False, 65, 30.0),
        ("a", True, 40, 8.0),
        ("b", False, 40, 50.0),
    ):
        log += [Dried(median + d, recipe, 1, humidity, 20.0, cabinet) for d in (-2, -1, 0, 1, 2)]
    for recipe, cabinet, humidity, median in (("a", False, 42, 20), ("a", False, 63, 30), ("a", True, 40, 8)):
        found = clock_for(log, Dried(0, recipe, 1, humidity, 20.0, cabinet))
        assert (found.n, found.median_hours) == (5, median)
    assert clock_for(log, Dried(0, "b", 1, 40, 20.0, True)).n == 0


def test_what_is_alike_is_let_go_in_order_and_said():
    log = [Dried(10.0 + i, "a", 1, 50.0, 20.0) for i in range(4)]
    log += [Dried(30.0, "a", 1, 50.0, 28.0), Dried(90.0, "a", 2, 50.0, 20.0)]
    found = clock_for(log, Dried(0, "a", 1, 50.0, 20.0))
    assert (found.n, found.alike) == (5, ("recipe", "cabinet", "coat", "humidity"))
    third = clock_for(log, Dried(0, "a", 2, 50.0, 20.0))
    assert (third.n, third.alike) == (6, ("recipe", "cabinet"))
    assert clock_for(log, Dried(0, "c")).status == "estimate"


def test_a_case_whose_room_is_not_known_is_not_called_alike():
    log = [Dried(10.0, "a") for _ in range(5)]
    found = clock_for(log, Dried(0, "a", 1, 50.0, 20.0))
    assert (found.n, found.alike) == (5, ("recipe", "cabinet", "coat"))


@pytest.mark.parametrize("bad", [0.0, -1.0, float("nan"), float("inf")])
def test_hours_that_cannot_be(bad):
    with pytest.raises(Refusal):
        clock([1, 2, 3, 4, bad])


def test_stated_times_until_then():
    """Mayson 1902: two or three days for a coat of oil varnish; a maker: a day and more in the cabinet."""
    from purfling.craft.sources import all_sources as sources

    oil = stated_hours("oil", "hands")
    assert 48 <= oil.hours <= 72 and oil.source == "mayson1902"
    assert 24 <= stated_hours("oil", "cloth", cabinet=True).hours <= 48
    assert stated_hours("oil", "hands", own={"hands": 60.0}).source == "shop"
    assert stated_hours("something else", "hands") is None
    for kind in recipe_kinds():
        times = [stated_hours(kind, bears) for bears in ("hands", "cloth", "chinrest", "case")]
        assert [t.hours for t in times] == sorted(t.hours for t in times)
        assert all(t.source in sources() for t in times)
