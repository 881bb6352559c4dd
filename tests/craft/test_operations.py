"""The catalogue of operations: complete in both languages, and the order of work holds."""

import pytest

from purfling.craft.cautions import caution_codes
from purfling.craft.operations import (
    WAITS,
    catalogue,
    in_order_of_work,
    operations_of,
    out_of_order,
    usual_service,
    waited_for,
)
from purfling.craft.quantities import readings
from purfling.words import say

ALL = list(catalogue().values())


@pytest.mark.parametrize("row", ALL, ids=lambda r: r.code)
def test_a_row_points_only_at_what_exists(row):
    assert set(row.after) <= set(catalogue())
    assert set(row.readings) <= set(readings())
    assert {f"cautions.{c}" for c in row.cautions} <= set(caution_codes())
    assert (row.wait_kind in WAITS) == (row.wait_minutes > 0)
    assert all(m > 0 for m in row.minutes.values())
    for language in ("en", "de"):
        assert say(f"operations.{row.code}", language)
        steps = say(f"operations.{row.code}_steps", language).splitlines()
        assert all(1 <= s <= len(steps) for s in row.stops)
    english, german = (say(f"operations.{row.code}_steps", x).splitlines() for x in ("en", "de"))
    assert len(english) == len(german)


# The usual order of the trade (bench practice): structure, preparation, set-up, polish, strings, adjustment,
# the chinrest last; the bow by itself: lapping, underlay, leather, hair, rosin on dry hair.
@pytest.mark.parametrize(
    ("earlier", "later"),
    [
        ("strip", "nut_off"),
        ("nut_off", "board"),
        ("board", "nut_glued"),
        ("nut_glued", "nut_lowered"),
        ("cleaning", "retouch"),
        ("retouch", "rubbing"),
        ("retouch", "polish"),
        ("bridge_feet", "bridge_marked"),
        ("bridge_marked", "bridge_carved"),
        ("bridge_carved", "bridge_notched"),
        ("polish", "strings"),
        ("pegs", "strings"),
        ("nut_lowered", "strings"),
        ("post_looked", "strings"),
        ("strings", "adjustment"),
        ("retouch", "chinrest"),
        ("bow_lapping", "bow_leather"),
        ("bow_underlay", "bow_leather"),
        ("bow_leather", "bow_hair"),
        ("bow_hair", "bow_rosin"),
    ],
)
def test_the_later_waits_for_the_earlier(earlier, later):
    assert earlier in waited_for(later, [earlier])
    assert out_of_order([later, earlier]) == (later, earlier)
    assert out_of_order([earlier, later]) is None
    assert in_order_of_work([later, earlier]) == [earlier, later]


def test_the_catalogues_own_order_is_in_order():
    for kind in ("instrument", "bow"):
        for family in ("violin", "viola", "cello"):
            codes = [o.code for o in operations_of(kind, family)]
            assert len(codes) >= 8
            assert out_of_order(codes) is None


def test_what_is_not_on_the_list_is_not_waited_for():
    assert waited_for("bow_rosin", []) == ()
    assert out_of_order(["bow_rosin", "bow_leather"]) is None


def test_the_bridge_is_five_operations_and_the_nut_three():
    """Feet, height and curve, carving, notches are the bench's four; setting it on its marks is the fifth."""
    codes = list(catalogue())
    assert [c for c in codes if c.startswith("bridge_")] == [
        "bridge_feet",
        "bridge_marked",
        "bridge_carved",
        "bridge_notched",
        "bridge_set",
    ]
    assert [c for c in codes if c.startswith("nut_")] == ["nut_off", "nut_glued", "nut_lowered"]
    assert not catalogue()["bridge_carved"].needs and catalogue()["bridge_feet"].needs


def test_a_cello_has_no_chinrest_and_a_bow_no_board():
    assert "chinrest" not in [o.code for o in operations_of("instrument", "cello")]
    assert all(o.code.startswith("bow_") for o in operations_of("bow", "cello"))


def test_the_usual_service_leaves_out_what_breaks_the_class():
    working, nothing = usual_service("instrument", "violin", "working")
    kept, left_out = usual_service("instrument", "violin", "conserve")
    assert nothing == [] and set(left_out) == {"polish", "rubbing"}
    assert set(working) == set(kept) | set(left_out)
    assert out_of_order(working) is None
    assert set(usual_service("instrument", "violin", "between")[1]) == {"polish", "rubbing"}
