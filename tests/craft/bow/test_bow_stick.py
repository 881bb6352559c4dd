"""The taper law against its printed construction; solids against their closed forms."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from purfling.craft.bow.stick import AREA, BENDING, Stick, ahead_of, law_stick, solid
from purfling.craft.bow.taper import POLE_MM, SLOPE_MM, construction_points, law_diameter, law_moments
from purfling.craft.refusals import Refusal

# Fetis 1856 after Vuillaume, reprinted in Saint-George, The Bow (1896): 700 mm to the head, 110 of 8.6,
# ordinates 110 and 22, each ordinate stepped along the stick, each point 0.3 thinner.
# Stepped by hand with r = 1 - 88/700:
PRINTED = [
    (110.00, 8.6), (206.17, 8.3), (290.25, 8.0), (363.76, 7.7), (428.03, 7.4), (484.22, 7.1),
    (533.35, 6.8), (576.30, 6.5), (613.85, 6.2), (646.68, 5.9), (675.38, 5.6), (700.48, 5.3),
]  # fmt: skip


def test_twelve_construction_points() -> None:
    found = construction_points()
    assert len(found) == 12
    for (x, d), (px, pd) in zip(found, PRINTED, strict=True):
        assert x == pytest.approx(px, abs=0.006)
        assert d == pytest.approx(pd, abs=1e-12)


def test_closed_form_runs_through_the_printed_points() -> None:
    places = np.array([x for x, _ in PRINTED])
    assert law_diameter(places) == pytest.approx([d for _, d in PRINTED], abs=0.01)


def test_closed_form_is_the_often_printed_radius_law() -> None:
    # Radius -3.11 + 2.57 log10 X, X = 875 - x (credited to Fetis): doubled, 8.602 at the
    # cylinder and 5.309 at the head.
    x = np.linspace(110.0, 700.0, 60)
    printed = 2 * (-3.11 + 2.57 * np.log10(POLE_MM - x))
    assert law_diameter(x) == pytest.approx(printed, abs=0.012)
    assert SLOPE_MM * math.log(10) == pytest.approx(5.14, abs=0.002)


def test_cylinder_below_110_and_nothing_beyond_the_pole() -> None:
    assert law_diameter(np.array([0.0, 50.0, 110.0])) == pytest.approx([8.6, 8.6, 8.6])
    assert math.isnan(float(law_diameter(np.array([900.0]))[0]))


def test_solid_of_the_law_is_its_log_integral() -> None:
    # Numerical quadrature of d^2 and x d^2 as independent witness of the closed form.
    def square(x: float) -> float:
        return float(law_diameter(np.array([x]))[0]) ** 2

    want = quad(square, 0, 700, points=[110], epsabs=1e-10)[0]
    first = quad(lambda x: x * square(x), 0, 700, points=[110], epsabs=1e-8)[0]
    found = law_moments(700.0)
    assert found[0] == pytest.approx(want, rel=1e-11)
    assert found[1] == pytest.approx(first, rel=1e-11)
    stick = solid(law_stick(700.0))
    assert stick.mass_g(1050.0) == pytest.approx(want * math.pi / 4 * 1050e-6, rel=1e-11)
    assert stick.mass_g(1050.0) == pytest.approx(33.347, abs=0.0005)
    assert stick.centre_mm == pytest.approx(302.869, abs=0.0005)


def test_cylinder() -> None:
    found = solid(Stick((0.0, 700.0), (8.0, 8.0)))
    assert found.mass_g(1000.0) == pytest.approx(math.pi * 16 * 700 * 1e-3, rel=1e-12)
    assert found.centre_mm == pytest.approx(350.0, rel=1e-12)
    assert found.gyration_mm == pytest.approx(700 / math.sqrt(12), rel=1e-12)


@given(st.floats(4, 10), st.floats(3, 10), st.floats(100, 750))
def test_frustum_of_a_cone(d1: float, d2: float, length: float) -> None:
    # Volume pi h (R^2 + R r + r^2) / 3, centre h (R^2 + 2 R r + 3 r^2) / 4 (R^2 + R r + r^2) from the R end.
    a, b = d1 / 2, d2 / 2
    found = solid(Stick((0.0, length), (d1, d2)))
    all_three = a * a + a * b + b * b
    assert found.volume_mm3 == pytest.approx(math.pi * length * all_three / 3, rel=1e-9)
    assert found.centre_mm == pytest.approx(
        length * (a * a + 2 * a * b + 3 * b * b) / (4 * all_three), rel=1e-9
    )


def test_cone_of_the_reference_figures() -> None:
    found = solid(Stick((0.0, 590.0), (8.6, 5.3)))
    assert found.mass_g(1050.0) == pytest.approx(23.94333, abs=5e-6)
    assert found.centre_mm == pytest.approx(249.1704, abs=5e-5)


def test_measured_points_come_near_the_law() -> None:
    rows = [(0.0, 8.6), *PRINTED]
    found = solid(Stick(tuple(x for x, _ in rows), tuple(d for _, d in rows)))
    # Chords of a hollow curve lie inside it: a little lighter, never heavier.
    law = solid(law_stick(700.48))
    assert 0.998 < found.volume_mm3 / law.volume_mm3 < 1.0


def test_octagon_against_its_polygon() -> None:
    # Green's theorem on the eight corners of an octagon of width 1 across flats.
    r = 0.5 / math.cos(math.pi / 8)
    corners = [
        (r * math.cos(math.pi / 8 + k * math.pi / 4), r * math.sin(math.pi / 8 + k * math.pi / 4))
        for k in range(8)
    ]
    area = bending = 0.0
    for (x1, y1), (x2, y2) in zip(corners, corners[1:] + corners[:1], strict=True):
        cross = x1 * y2 - x2 * y1
        area += cross / 2
        bending += cross * (y1 * y1 + y1 * y2 + y2 * y2) / 12
    assert AREA["octagonal"] == pytest.approx(area, rel=1e-12)
    assert BENDING["octagonal"] == pytest.approx(bending, rel=1e-12)
    assert AREA["octagonal"] > AREA["round"] and BENDING["octagonal"] > BENDING["round"]


def test_cut_stick_keeps_its_diameters() -> None:
    stick = Stick((0.0, 100.0, 700.0), (8.6, 8.6, 5.3))
    rest = ahead_of(stick, 400.0)
    x = np.linspace(400, 700, 7)
    assert rest.diameter(x) == pytest.approx(stick.diameter(x))
    assert ahead_of(stick, 0.0) is stick
    with pytest.raises(Refusal, match="outside_stick"):
        ahead_of(stick, 700.0)


@pytest.mark.parametrize(
    ("stations", "code"), [((0.0,), "too_few"), ((0.0, 0.0), "fall"), ((100.0, 50.0), "fall")]
)
def test_bad_stations_are_refused(stations: tuple[float, ...], code: str) -> None:
    with pytest.raises(Refusal, match=code):
        Stick(stations, tuple(8.0 for _ in stations))
