"""Typed figures: comma and point are never mistaken, inches are inches."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from purfling.craft.quantities import readings
from purfling.refusals import Refusal
from purfling.shop.domain.figures import read_figure

MM = readings()["end.clearance_mm"]
GRAM = readings()["bow.mass_g"]


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("5.5", 5.5),
        ("5,5", 5.5),
        (".35", 0.35),
        (",35", 0.35),
        ("-0.5", -0.5),
        ("\u22120,5", -0.5),
        ("5.5 mm", 5.5),
        ("1.500", 1.5),
        ("1,500", 1.5),
        ("5/64 in", 1.984375),  # 5/64 x 25.4 mm
        ('7/32"', 5.55625),
        ("1 1/8 in", 28.575),
        ("0,2 in", 5.08),
    ],
)
def test_what_is_typed_is_what_is_meant(text, value):
    assert read_figure(text, MM, "x").value == pytest.approx(value, rel=1e-12)


@pytest.mark.parametrize(
    "text", ["1.234,5", "1,234.5", "1.2.3", "5 5", "--5", "5/64", "five", "1e3", "nan", "inf", "5/0 in"]
)
def test_what_could_be_mistaken_is_refused(text):
    with pytest.raises(Refusal, match="not_a_figure"):
        read_figure(text, MM, "x")


def test_grams_in_inches_are_refused():
    with pytest.raises(Refusal, match="not_a_figure"):
        read_figure("5/64 in", GRAM, "x")


@given(st.text(max_size=30))
def test_any_text_is_a_finite_figure_or_a_refusal(text):
    try:
        value = read_figure(text, MM, "x").value
    except Refusal:
        return
    assert abs(value) < 1e6


@given(st.decimals(min_value=0, max_value=999, places=2))
def test_comma_and_point_mean_the_same(number):
    text = f"{number}"
    assert read_figure(text, MM, "x") == read_figure(text.replace(".", ","), MM, "x")
