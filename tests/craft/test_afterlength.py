"""Tensions, afterlength and tail loop: published tables and the worked figures, then laws."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from purfling.craft.afterlength import (
    afterlength_pitch_hz,
    afterlength_target_mm,
    friction_cents,
    interval_cents,
    tail_move,
)
from purfling.craft.statics import foot_loads, string_forces
from purfling.craft.strings import scaled_tension_n, tension_n

# C. Desvages, Physical modelling of the bowed string (thesis, Edinburgh), as typed into the code companion of
# Russo et al.: length mm, g/m, N; pitches equal tempered. Its tensions may come from the same formula.
DESVAGES = [
    (320, 0.410, 659.26, 73.0),
    (320, 0.720, 440.0, 57.10),
    (320, 1.610, 293.66, 56.88),
    (320, 2.790, 196.0, 43.90),
    (690, 1.660, 220.0, 153.0),
    (690, 2.500, 146.83, 102.6),
    (690, 6.160, 98.0, 112.67),
    (690, 21.20, 65.41, 172.74),
]
# G. Percival's measured violin strings (thesis, Glasgow 2013): N, mm, g/m and the nominal pitch.
PERCIVAL = [
    (31.5, 325, 1.95, 196.0),
    (56.0, 319, 1.61, 293.66),
    (49.5, 325, 0.602, 440.0),
    (107.4, 319, 0.600, 659.26),
    (60.9, 321, 3.86, 196.0),
    (69.6, 324, 1.93, 293.66),
    (52.6, 320, 0.661, 440.0),
]


@pytest.mark.parametrize(("length", "density", "pitch", "printed"), DESVAGES)
def test_tensions_of_a_printed_table(length: float, density: float, pitch: float, printed: float) -> None:
    assert tension_n(density, length, pitch) == pytest.approx(printed, rel=1e-3)


@pytest.mark.parametrize(("tension", "length", "density", "nominal"), PERCIVAL)
def test_measured_strings_sound_near_their_pitch(
    tension: float, length: float, density: float, nominal: float
) -> None:
    # Measured tension and mass give the nominal pitch within 10.2 cents (formula solved for f).
    pitch = math.sqrt(tension / (density / 1000.0)) / (2.0 * length / 1000.0)
    assert abs(interval_cents(nominal, pitch)) < 11.0
    assert tension_n(density, length, pitch) == pytest.approx(tension, rel=1e-12)


def test_plain_gut_of_a_makers_article() -> None:
    # Peruffo's article: a = 440, L = 330, plain gut E 0.65 mm and D 1.45 mm, 8.3 kg each (1300 kg/m3).
    for diameter, pitch in ((0.65, 660.0), (1.45, 293.33)):
        density = 1300.0 * math.pi / 4 * (diameter / 1000.0) ** 2 * 1000.0
        assert tension_n(density, 330.0, pitch) / 9.80665 == pytest.approx(8.3, abs=0.1)


def test_q10_a_stated_tension_goes_with_length_and_pitch() -> None:
    assert scaled_tension_n(44.0, 325.0, 196.0, 328.0, 196.0) == pytest.approx(44.0 * (328 / 325) ** 2)
    density = 2.5
    stated = tension_n(density, 325.0, 440.0)
    assert scaled_tension_n(stated, 325.0, 440.0, 370.0, 415.0) == pytest.approx(
        tension_n(density, 370.0, 415.0)
    )


@pytest.mark.parametrize(
    ("angle", "share", "off"), [(158.0, 0.38, 0.005), (157.0, 0.40, 0.005), (154.32, 4 / 9, 1e-4)]
)
def test_q10_down_force_over_tension(angle: float, share: float, off: float) -> None:
    # 2 sin((180 - angle)/2); 4/9 of the tension is Hart's figure of 1875 (18 lb gives 8 lb).
    half = (180.0 - angle) / 2
    down, along = string_forces(1.0, half, half)
    assert down == pytest.approx(share, abs=off)
    assert along == pytest.approx(0.0, abs=1e-12)


def test_q10_foot_split_of_the_old_rule() -> None:
    # Hart: 1st string wholly on the treble foot, 2nd two thirds, 3rd one third, 4th wholly on the bass foot.
    d = 30.0
    for y, treble in ((d / 2, 1.0), (d / 6, 2 / 3), (-d / 6, 1 / 3), (-d / 2, 0.0)):
        assert foot_loads([1.0], [y], d)[1] == pytest.approx(treble)


def test_q7_afterlength_of_a_sixth() -> None:
    # 328 / 6 = 54.7; a violin's G then sounds D6, 1176 Hz. Pages: 325 / 6 = 54.17; 12 15/16 in: 2.156.
    assert afterlength_target_mm(328.0) == pytest.approx(54.7, abs=0.04)
    assert afterlength_target_mm(325.0) == pytest.approx(54.17, abs=0.005)
    assert afterlength_target_mm(12.9375) == pytest.approx(2.156, abs=0.0005)
    assert afterlength_pitch_hz(196.0, 328.0, 328.0 / 6) == pytest.approx(1176.0)


def test_q7_a_sixth_is_two_octaves_and_a_fifth() -> None:
    assert interval_cents(1.0, 6.0) == pytest.approx(3101.955, abs=0.0005)
    assert interval_cents(1.0, 6.0) == pytest.approx(2400 + 1200 * math.log2(1.5))


def test_q7_the_loop_changes_by_twice_the_move() -> None:
    longer = tail_move(52.7, 54.7, gap_mm=5.0)
    assert (longer.move_mm, longer.loop_mm) == (pytest.approx(2.0), pytest.approx(-4.0))
    assert longer.gap_mm == pytest.approx(3.0)
    shorter = tail_move(56.0, 54.0, knot_mm=1.5)
    assert shorter.loop_mm == pytest.approx(4.0 - 1.5)
    assert shorter.gap_mm is None


def test_friction_over_the_bridge_bounds_the_afterlength() -> None:
    # Internal check (capstan): m 0.1, 26 degrees: 39.3 cents; m 0.2: 78.6. The coefficient has no source.
    assert friction_cents(0.1, 26.0) == pytest.approx(39.3, abs=0.05)
    assert friction_cents(0.2, 26.0) == pytest.approx(78.6, abs=0.1)


@given(st.floats(0.2, 30.0), st.floats(300.0, 720.0), st.floats(60.0, 700.0), st.floats(1.1, 2.0))
def test_tension_goes_with_mass_and_the_square_of_length_and_pitch(
    density: float, length: float, pitch: float, k: float
) -> None:
    base = tension_n(density, length, pitch)
    assert tension_n(density * k, length, pitch) == pytest.approx(base * k)
    assert tension_n(density, length * k, pitch) == pytest.approx(base * k * k)
    assert tension_n(density, length, pitch * k) == pytest.approx(base * k * k)
