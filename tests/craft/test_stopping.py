"""Finger force and pressing sharp: a printed exercise, statics, bounds; internal checks are marked so."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from purfling.craft.stopping import axial_stiffness_n, finger_force_n, press_cents, pressed_tension_n


def test_finger_force_of_a_violin_string() -> None:
    # Internal check: T 60 N, L 325, finger at mid string, 4 mm down: 2.954 N by T delta L/(a b).
    assert float(finger_force_n(60.0, 325.0, 162.5, 4.0)) == pytest.approx(2.954, abs=0.002)


def test_finger_force_is_the_side_pull_of_a_printed_exercise() -> None:
    # A printed mechanics exercise: string of 12.5 in, pulled 0.25 in aside at its middle, answer 1.15 lb, for
    # four strings that press 20 lb on a bridge at 80 degrees to its normal: T = 20 / (8 cos 80).
    tension = 20.0 / (8.0 * math.cos(math.radians(80.0)))
    assert float(finger_force_n(tension, 12.5, 6.25, 0.25)) == pytest.approx(1.15, abs=0.005)


@given(st.floats(20.0, 150.0), st.floats(10.0, 300.0), st.floats(0.01, 6.0))
def test_finger_force_balances_the_two_ends(tension: float, a: float, d: float) -> None:
    # Equilibrium by vectors, an independent way.
    length = 325.0
    one = np.array([-a, d]) / math.hypot(a, d)
    other = np.array([length - a, d]) / math.hypot(length - a, d)
    assert float(finger_force_n(tension, length, a, d)) == pytest.approx(
        tension * (one + other)[1], rel=1e-12
    )


@pytest.mark.parametrize(
    ("a", "d", "cents", "first_order"), [(160.0, 2.7, 13.50, 13.61), (240.0, 3.5, 29.17, 29.72)]
)
def test_pressing_an_e_string_sharp(a: float, d: float, cents: float, first_order: float) -> None:
    # Internal check: T 73 N, EA 10.6 kN, Le 420, L 320, B 4.80e-5 (Desvages, violin E): one and two octaves.
    assert float(press_cents(73.0, 10600.0, 320.0, 420.0, a, d, 4.80e-5)) == pytest.approx(cents, abs=0.005)
    b = 320.0 - a
    longer = d * d / 2 * (1 / a + 1 / b)
    tighter = 10600.0 * longer / 420.0
    stiff = 4.80e-5 * 320.0**2 / 2 * (1 / b**2 - 1 / 320.0**2)
    expected = 1731.234 * (tighter / 146.0 + longer / 840.0 - d * d / (2 * b * b) + stiff)
    assert expected == pytest.approx(first_order, abs=0.01)
    assert float(pressed_tension_n(73.0, 10600.0, 320.0, 420.0, 160.0, 2.7)) - 73.0 == pytest.approx(
        1.150, abs=0.001
    )


def test_the_fine_tuner_tells_the_stiffness() -> None:
    # Internal check: 0.2 mm on that string is 57.87 cents; the way back gives EA again.
    heard = 1731.2340490667562 / 2 * math.log(1 + 10600.0 * 0.2 / 420.0 / 73.0)
    assert heard == pytest.approx(57.87, abs=0.005)
    assert axial_stiffness_n(73.0, 0.2, heard, 420.0) == pytest.approx(10600.0, rel=1e-9)


@given(st.floats(20.0, 300.0), st.floats(0.1, 5.0))
def test_a_string_that_slides_over_the_bridge_sounds_less_sharp(a: float, d: float) -> None:
    fixed = float(press_cents(73.0, 10600.0, 325.0, 325.0, a, d))
    slides = float(press_cents(73.0, 10600.0, 325.0, 425.0, a, d))
    assert slides < fixed


def test_no_way_down_no_change() -> None:
    assert float(press_cents(73.0, 10600.0, 325.0, 325.0, 100.0, 0.0)) == 0.0
    assert float(finger_force_n(73.0, 325.0, 100.0, 0.0)) == 0.0
