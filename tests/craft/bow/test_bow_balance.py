"""Weight and balance against published figures, hand levers and laws."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from purfling.craft.bow.balance import (
    Body,
    Datums,
    WholeBow,
    changed_errors,
    moved_inertia,
    pendulum_inertia,
    together,
    two_scales,
    without,
)
from purfling.craft.refusals import Refusal

DATUMS = Datums(50.0, 14.0, 2.0)


def test_every_datum() -> None:
    # stick_end = frog_front + frog_length, button = stick_end + button_length.
    read = DATUMS.read_from(240.0)
    assert read == {"frog_front": 190.0, "stick_end": 240.0, "button": 254.0, "ferrule": 188.0}


@pytest.mark.parametrize("datum", ["frog_front", "stick_end", "button", "ferrule"])
def test_datums_come_back(datum: str) -> None:
    at = DATUMS.from_stick_end(200.0, datum)  # type: ignore[arg-type]
    assert at is not None
    assert DATUMS.read_from(at)[datum] == pytest.approx(200.0)


def test_missing_lengths_are_none_and_not_guessed() -> None:
    bare = Datums(None, None)
    assert bare.read_from(240.0) == {"frog_front": None, "stick_end": 240.0, "button": None, "ferrule": None}
    assert bare.from_stick_end(190.0, "frog_front") is None


def test_1911_balance_is_plausible() -> None:
    # Encyclopaedia Britannica, 11th ed., Bow: centre of gravity 7.5 to 7.75 in (190 to 197 mm) from the nut.
    # A bow summed from a tapered stick and fittings of common weights must come out near it.
    bow = together(
        [
            Body("stick", 33.3, 303.0, 700.0),
            Body("frog", 13.5, 25.0),
            Body("button and screw", 4.2, 5.0),
            Body("lapping", 2.5, 112.0),
            Body("hair", 4.5, 375.0, 650.0),
            Body("tip plate", 0.7, 715.0),
        ]
    )
    assert 57 < bow.mass_g < 64
    front = Datums(50.0, 14.0).read_from(bow.at_mm)["frog_front"]
    assert front is not None
    assert 170 < front < 200


def test_two_scales_by_hand() -> None:
    # Lever: 37.1 g and 23.4 g on 600 mm balance at 232.07 mm from the first.
    assert two_scales(37.1, 23.4, 0.0, 600.0).at_mm == pytest.approx(232.07, abs=0.005)
    assert two_scales(30.0, 30.0, 10.0, 600.0).at_mm == pytest.approx(310.0)


def test_relapped_by_hand() -> None:
    # 60.0 g balanced 190 from the frog's front; 2.4 g fewer at 62 from it: 57.6 g and 195.3.
    bow = without(WholeBow(60.0, 190.0), Body("lapping", 2.4, 62.0))
    assert bow.mass_g == pytest.approx(57.6)
    assert bow.at_mm == pytest.approx(195.3, abs=0.05)


def test_a_rod_swings_as_textbooks_say() -> None:
    # Uniform rod hung by its end: T = 2 pi sqrt(2 L / 3 g), I = m L^2 / 3.
    m, length, g = 60.0, 700.0, 9.81
    period = 2 * math.pi * math.sqrt(2 * 0.7 / (3 * g))
    found = pendulum_inertia(m, length / 2, period, g)
    assert found == pytest.approx(0.060 * 0.7**2 / 3, rel=1e-12)
    rod = Body("rod", m, length / 2, length)
    assert rod.inertia(0.0) == pytest.approx(found, rel=1e-12)
    assert moved_inertia(found, WholeBow(m, 350.0), 0.0, 350.0) == pytest.approx(
        0.060 * 0.7**2 / 12, rel=1e-12
    )


@given(
    st.lists(st.tuples(st.floats(0.1, 40), st.floats(0, 720)), min_size=1, max_size=8), st.floats(-100, 300)
)
def test_parts_keep_mass_and_moment_and_turn_least_about_the_balance(
    rows: list[tuple[float, float]], about: float
) -> None:
    bodies = [Body("", m, x) for m, x in rows]
    whole = together(bodies)
    assert whole.mass_g * whole.at_mm == pytest.approx(sum(m * x for m, x in rows))
    own = sum(b.inertia(whole.at_mm) for b in bodies)
    there = sum(b.inertia(about) for b in bodies)
    assert there == pytest.approx(own + whole.mass_g * (about - whole.at_mm) ** 2 * 1e-9, abs=1e-12)
    left = without(together([whole, Body("more", 3.0, 100.0)]), Body("more", 3.0, 100.0))
    assert left.at_mm == pytest.approx(whole.at_mm, abs=1e-9)


def test_nothing_left_is_refused() -> None:
    with pytest.raises(Refusal, match="no_mass_left"):
        without(WholeBow(5.0, 100.0), Body("all", 5.0, 100.0))


def test_errors_are_those_of_many_tries() -> None:
    rng = np.random.default_rng(3)
    n = 20000
    m, x = rng.normal(60.0, 0.05, n), rng.normal(240.0, 1.0, n)
    off, on = rng.normal(-2.4, 0.05, n), rng.normal(5.0, 0.17, n)
    mass = m + off + on
    balance = (m * x + off * 112 + on * 110) / mass
    error = changed_errors(WholeBow(60.0, 240.0), [(-2.4, 112.0, 0.05), (5.0, 110.0, 0.17)], 0.05, 1.0)
    assert error[0] == pytest.approx(float(np.std(mass)), rel=0.03)
    assert error[1] == pytest.approx(float(np.std(balance)), rel=0.03)
