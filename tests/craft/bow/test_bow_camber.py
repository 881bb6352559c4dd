"""The camber against parabolas, sines and an independent spline."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.interpolate import CubicSpline

from purfling.craft.bow.camber import Camber, spline
from purfling.craft.refusals import Refusal

X = (60.0, 160.0, 260.0, 360.0, 460.0, 560.0, 690.0)
Y = (0.0, 5.5, 10.8, 14.4, 15.1, 11.7, 0.0)


def test_spline_is_that_of_another_library() -> None:
    x = np.linspace(60, 690, 500)
    other = CubicSpline(X, Y, bc_type="natural")
    assert spline(np.array(X), np.array(Y), x) == pytest.approx(other(x), abs=1e-10)


def test_deepest_of_a_half_sine() -> None:
    x = np.linspace(0, 700, 15)
    camber = Camber(tuple(x), tuple(16 * np.sin(np.pi * x / 700)))
    place, depth = camber.deepest()
    assert place == pytest.approx(350.0, abs=0.1)
    assert depth == pytest.approx(16.0, abs=0.005)


@given(st.floats(-5, 5), st.floats(-0.02, 0.02))
def test_another_straight_edge_changes_nothing(lift: float, tilt: float) -> None:
    moved = Camber(X, tuple(y + lift + tilt * x for x, y in zip(X, Y, strict=True)))
    assert moved.depth_mm == pytest.approx(Camber(X, Y).depth_mm, abs=1e-9)


@pytest.mark.parametrize(
    ("at", "height", "code"),
    [
        ((0.0, 700.0), (0.0, 0.0), "too_short"),
        (X, Y[:-1], "lengths"),
        ((0.0, 300.0, 200.0), (0.0, 1.0, 0.0), "fall"),
    ],
)
def test_refusals(at: tuple[float, ...], height: tuple[float, ...], code: str) -> None:
    with pytest.raises(Refusal, match=code):
        Camber(at, height)
