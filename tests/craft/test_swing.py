"""Swing and margin: the published swing at the bow, closed forms, brute force, then monotony and mirror."""

import dataclasses
import math
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from purfling.craft.refusals import Refusal
from purfling.craft.setup import setup
from purfling.craft.swing import (
    Course,
    Scoop,
    Swing,
    bow_constant,
    bowed_mm,
    courses,
    margins,
    nut_floor_mm,
    plucked_mm,
    room_mm,
    square,
    stop_place_mm,
)
from purfling.reckonings.setup.compute import card_of
from purfling.slips.reader import read_slip

EXAMPLES = Path(__file__).parents[2] / "examples"

FLAT_ON = 90.0  # bow angle at which the whole swing is square to the board


def course(**changes: object) -> Course:
    """A G string over the middle of a board: no arc to turn room, so closed forms hold exactly."""
    one = Course(
        name="G",
        string_length_mm=328.0,
        board_length_mm=270.0,
        pitch_hz=196.0,
        over_chord_mm=6.6,
        nut_clearance_mm=0.4,
        lateral_nut_mm=0.0,
        lateral_bridge_mm=0.0,
        radius_nut_mm=42.0,
        radius_end_mm=42.0,
        scoop=Scoop(270.0, 0.7),
    )
    return dataclasses.replace(one, **changes)  # type: ignore[arg-type]


def measured(board_mm: float, depth: float, n: int = 60) -> Scoop:
    x = np.linspace(0.0, board_mm, n)
    d = 4 * depth * (x / board_mm) * (1 - x / board_mm)
    return Scoop(board_mm, 0.0, tuple(float(v) for v in x), tuple(float(v) for v in d))


def test_swing_at_the_bow_is_the_published_one() -> None:
    # UNSW teaching text on bowed strings: peak to peak at the bow A = vb (n-1)/(n f),
    # bow at L/n from the bridge; vb = 0.2 m/s, f = 440 Hz, n = 10: 0.40909 mm.
    length = 328.0
    one = course(pitch_hz=440.0)
    swing = Swing(bow_speed_m_s=0.2, bow_from_bridge_mm=length / 10, bow_angle_deg=FLAT_ON)
    half = float(bowed_mm(swing, one, 0.0, length - length / 10))
    assert 2 * half == pytest.approx(0.40909, abs=5e-6)


def test_half_swing_of_the_open_g_is_3_49_mm_in_the_middle() -> None:
    # vb 0.5 m/s, bow 30 mm from the bridge, L 328: K = 0.1296 per m (internal: the same formula by hand).
    swing = Swing(bow_angle_deg=FLAT_ON)
    assert bow_constant(swing, course()) * 1000 == pytest.approx(0.1296, abs=5e-5)
    assert float(bowed_mm(swing, course(), 0.0, 164.0)) == pytest.approx(3.49, abs=0.005)


def test_only_the_part_square_to_the_board_counts() -> None:
    full = bow_constant(Swing(bow_angle_deg=FLAT_ON), course())
    assert bow_constant(Swing(bow_angle_deg=15.0), course()) == pytest.approx(
        full * math.sin(math.radians(15))
    )


def test_helmholtz_envelope_is_vb_over_8_f_beta_at_mid_length() -> None:
    # Cremer ch. 3 (from memory): maximum vb / (8 f beta), beta = bow to bridge over length.
    swing = Swing(bow_angle_deg=FLAT_ON)
    expected = 500.0 / (8 * 196.0 * 30 / 328)
    assert float(bowed_mm(swing, course(), 0.0, 164.0)) == pytest.approx(expected, rel=1e-12)


def test_a_stopped_note_uses_the_same_constant_as_its_own_pitch_would_give() -> None:
    # Stopped at s the string is one of length L - s and pitch f0 L/(L - s): its envelope by the open formula.
    swing = Swing(bow_angle_deg=FLAT_ON)
    one, s, x = course(), 120.0, 200.0
    short = course(
        string_length_mm=208.0, pitch_hz=196.0 * 328 / 208, board_length_mm=150.0, scoop=Scoop(150.0)
    )
    assert float(bowed_mm(swing, one, s, x)) == pytest.approx(
        float(bowed_mm(swing, short, 0.0, x - s)), rel=1e-12
    )


def test_plucked_triangle_is_reflected_through_the_middle_of_the_string() -> None:
    # An ideal plucked string reaches, half a period later, the first triangle turned about its middle:
    # the sum of its sines with alternate signs (Fourier series of the triangle, an independent way).
    swing = Swing(pluck_mm=2.0, pluck_from_bridge_mm=60.0)
    one = course()
    length, p, d = 328.0, 60.0, 2.0
    n = np.arange(1, 20001)
    a = (
        2
        * d
        * length**2
        / (n**2 * math.pi**2 * p * (length - p))
        * np.sin(n * math.pi * (length - p) / length)
    )
    for x in (20.0, 60.0, 150.0, 260.0):
        series = float((a * np.sin(n * math.pi * x / length) * np.cos(n * math.pi)).sum())
        assert -series == pytest.approx(float(plucked_mm(swing, one, 0.0, x)), abs=2e-4)


def test_pluck_is_at_most_a_quarter_of_the_sounding_length_from_the_bridge() -> None:
    far, quarter = Swing(pluck_from_bridge_mm=120.0), Swing(pluck_from_bridge_mm=None)
    x = np.linspace(10.0, 260.0, 9)
    assert np.allclose(plucked_mm(far, course(), 0.0, x), plucked_mm(quarter, course(), 0.0, x))
    assert float(plucked_mm(quarter, course(), 0.0, 82.0)) == pytest.approx(2.0)


def test_stops_are_those_of_equal_temperament() -> None:
    assert stop_place_mm(328.0, np.array([0, 12, 19])) == pytest.approx(
        [0.0, 164.0, 328 * (1 - 2 ** (-19 / 12))]
    )


def closed_form(one: Course, swing: Swing, s: float, x: float) -> float:
    """On a parabola [m_s - (kappa/2)(x + s - Lf)] / (K (L - x)), kappa = 8 d / Lf^2 (limit at x = s)."""
    lf, length = one.board_length_mm, one.string_length_mm
    kappa = 8 * one.scoop.middle_mm / lf**2
    m = (one.over_chord_mm + float(one.scoop.depth(s))) / (length - s)
    return (m - kappa / 2 * (x + s - lf)) / (bow_constant(swing, one) * (length - x))


@given(st.floats(0.0, 1.5), st.floats(5.0, 220.0), st.floats(5.0, 60.0))
def test_parabola_has_its_least_margin_at_the_finger_or_at_the_end(
    depth: float, s: float, phi: float
) -> None:
    one, swing = course(scoop=Scoop(270.0, depth)), Swing(bow_angle_deg=phi)
    bowed, _ = margins(one, swing, np.array([s]))
    expected = min(closed_form(one, swing, s, s), closed_form(one, swing, s, 270.0))
    assert float(bowed.ratio[0]) == pytest.approx(expected, rel=1e-9)


@given(st.floats(0.0, 1.5), st.floats(5.0, 220.0), st.booleans())
def test_parabola_against_brute_force_along_the_string(depth: float, s: float, arched: bool) -> None:
    # Brute force over 4,001 places from 1 um past the finger; on an arched board the cosine is in it as well.
    lateral = {"lateral_nut_mm": -8.25, "lateral_bridge_mm": -16.75} if arched else {}
    one, swing = course(scoop=Scoop(270.0, depth), **lateral), Swing()
    x = np.linspace(s + 1e-3, 270.0, 4001)
    for found, moves in zip(margins(one, swing, np.array([s])), (bowed_mm, plucked_mm), strict=True):
        brute = float((room_mm(one, s, x) / moves(swing, one, s, x)).min())
        assert float(found.ratio[0]) == pytest.approx(brute, rel=1e-3)


@given(st.lists(st.floats(-0.15, 1.2), min_size=7, max_size=7), st.floats(0.0, 220.0), st.floats(-17.0, 17.0))
def test_measured_profile_against_brute_force(depths: list[float], s: float, lateral: float) -> None:
    scoop = Scoop(270.0, 0.0, tuple(33.75 * i for i in range(1, 8)), tuple(depths))
    one = course(scoop=scoop, lateral_nut_mm=lateral / 2, lateral_bridge_mm=lateral)
    x = np.linspace(s + 1e-4, 270.0, 40001)
    for found, moves in zip(margins(one, Swing(), np.array([s])), (bowed_mm, plucked_mm), strict=True):
        brute = float((room_mm(one, s, x) / moves(Swing(), one, s, x)).min())
        assert float(found.ratio[0]) == pytest.approx(brute, rel=1e-3, abs=1e-3)


def test_a_finely_measured_parabola_is_the_parabola() -> None:
    stops = stop_place_mm(328.0, np.arange(1, 20))
    for one, other in zip(
        margins(course(), Swing(), stops),
        margins(course(scoop=measured(270.0, 0.7, 2701)), Swing(), stops),
        strict=True,
    ):
        assert one.ratio == pytest.approx(other.ratio, rel=2e-3)


def test_scoop_that_makes_the_margin_even_along_the_string() -> None:
    # kappa / 2 = K, i.e. d = K Lf^2 / 4: the margin (in slope, not ratio) is the same at every place.
    swing = Swing()
    k = bow_constant(swing, course())
    one = course(scoop=Scoop(270.0, k * 270.0**2 / 4))
    s, x = 60.0, np.linspace(61.0, 270.0, 50)
    slope = (room_mm(one, s, x) - bowed_mm(swing, one, s, x)) / (x - s)
    assert float(np.ptp(slope)) < 1e-12


def test_room_of_the_open_string_at_the_board_end_is_its_clearance() -> None:
    # s = c (1 - Lb/L) + H Lb/L upright, times the cosine square to the board.
    one = course(lateral_nut_mm=-8.25, lateral_bridge_mm=-16.75)
    upright = 0.4 * (1 - 270 / 328) + 6.6 * 270 / 328
    assert float(room_mm(one, 0.0, 270.0)) == pytest.approx(upright * float(square(one, 270.0)))


def test_spare_is_taken_20_mm_past_the_finger_when_the_finger_is_the_place() -> None:
    one, s = course(scoop=Scoop(270.0, 0.0)), 100.0
    bowed, plucked = margins(one, Swing(bow_angle_deg=40.0), np.array([s]))
    assert float(bowed.at_mm[0]) == s
    expected = float(room_mm(one, s, 120.0) - bowed_mm(Swing(bow_angle_deg=40.0), one, s, 120.0))
    assert float(bowed.spare_mm[0]) == pytest.approx(expected)
    assert np.isfinite(plucked.spare_mm).all()


@given(st.floats(0.0, 2.0), st.floats(0.0, 2.0), st.floats(0.0, 220.0))
def test_more_height_never_lowers_a_margin(low: float, more: float, s: float) -> None:
    one = course(over_chord_mm=5.0 + low)
    other = course(over_chord_mm=5.0 + low + more, nut_clearance_mm=0.4 + more)
    for a, b in zip(
        margins(one, Swing(), np.array([s])), margins(other, Swing(), np.array([s])), strict=True
    ):
        assert float(b.ratio[0]) >= float(a.ratio[0]) - 1e-12


def test_a_mirror_image_has_the_same_margins() -> None:
    stops = stop_place_mm(328.0, np.arange(20))
    one = course(lateral_nut_mm=-8.25, lateral_bridge_mm=-16.75)
    other = course(lateral_nut_mm=8.25, lateral_bridge_mm=16.75)
    for a, b in zip(margins(one, Swing(), stops), margins(other, Swing(), stops), strict=True):
        assert np.array_equal(a.ratio, b.ratio)


@given(st.floats(0.4, 3.0))
def test_twice_the_size_with_half_the_pitch_and_twice_the_bow_speed_keeps_every_ratio(k: float) -> None:
    # Swing scales with v/f; lengths times k with v/f times k leaves room / swing unchanged.
    one = course(lateral_nut_mm=-8.25, lateral_bridge_mm=-16.75)
    large = Course(
        "G",
        328 * k,
        270 * k,
        196.0,
        6.6 * k,
        0.4 * k,
        -8.25 * k,
        -16.75 * k,
        42 * k,
        42 * k,
        Scoop(270 * k, 0.7 * k),
    )
    swing = Swing(bow_speed_m_s=0.5 * k, bow_from_bridge_mm=30 * k, pluck_mm=2 * k)
    stops = stop_place_mm(328.0, np.arange(20))
    for a, b in zip(margins(one, Swing(), stops), margins(large, swing, stops * k), strict=True):
        assert b.ratio == pytest.approx(a.ratio, rel=1e-9)
        assert b.at_mm == pytest.approx(a.at_mm * k, rel=1e-6, abs=1e-9)


# ---- how low the nut can go -------------------------------------------------------------------------


def envelope(amplitude_mm: float) -> Swing:
    """A bowed swing whose greatest half amplitude, at mid string, is given: e(x) = 4 A u (1 - u)."""
    full = float(bowed_mm(Swing(bow_angle_deg=FLAT_ON), course(), 0.0, 164.0))
    return Swing(bow_speed_m_s=0.5 * amplitude_mm / full, bow_angle_deg=FLAT_ON)


def floor(amplitude: float, scoop: Scoop) -> float:
    return nut_floor_mm(course(scoop=scoop), envelope(amplitude), 5.5)[0]


def test_q5_true_scoop_frees_the_nut() -> None:
    assert floor(2.5, Scoop(270.0, 0.8)) == pytest.approx(0.0, abs=0.005)


def test_q5_no_scoop_needs_0_35() -> None:
    assert floor(2.5, Scoop(270.0, 0.0)) == pytest.approx(0.35, abs=0.005)


def test_q5_a_hump_near_the_nut_needs_0_19() -> None:
    # Scoop 0.5 with a hump of 0.15, 25 mm from the nut.
    x = np.arange(0.0, 271.0, 1.0)
    d = 4 * 0.5 * (x / 270) * (1 - x / 270) - 0.15 * np.maximum(0.0, 1 - np.abs(x - 25) / 5)
    hump = Scoop(270.0, 0.0, tuple(float(v) for v in x), tuple(float(v) for v in d))
    assert floor(2.5, hump) == pytest.approx(0.19, abs=0.01)


def test_q5_a_wider_swing_without_scoop_needs_0_84() -> None:
    assert floor(3.0, Scoop(270.0, 0.0)) == pytest.approx(0.84, abs=0.005)


def test_at_the_floor_the_open_string_just_touches() -> None:
    one, swing = course(scoop=Scoop(270.0, 0.0)), envelope(2.5)
    c, _ = nut_floor_mm(one, swing, 5.5)
    over = (5.5 - c * (1 - 270 / 328)) * 328 / 270
    bowed, _ = margins(
        dataclasses.replace(one, nut_clearance_mm=c, over_chord_mm=over), swing, np.array([0.0])
    )
    assert float(bowed.ratio[0]) == pytest.approx(1.0, abs=2e-3)


@pytest.mark.parametrize(
    ("profile", "code"),
    [
        (((10.0, 5.0), (0.1, 0.2)), "profile_order"),
        (((10.0, 20.0), (0.1,)), "profile_lengths"),
        (((10.0, 300.0), (0.1, 0.1)), "profile_outside"),
        (((0.0, 100.0), (0.1, 0.3)), "profile_ends"),
    ],
)
def test_a_profile_that_is_none_is_refused(
    profile: tuple[tuple[float, ...], tuple[float, ...]], code: str
) -> None:
    with pytest.raises(Refusal, match=code):
        Scoop(270.0, 0.0, *profile)


def test_a_stop_off_the_board_is_refused() -> None:
    with pytest.raises(Refusal, match="stop_off_board"):
        margins(course(), Swing(), np.array([280.0]))


def test_courses_of_a_set_up_have_its_clearances_as_room() -> None:
    # Identity of docs/setup-geometry.md: at its end the open string stands its clearance over the board.
    card = card_of(read_slip(EXAMPLES / "cello.toml"))
    found = setup(card)
    made = courses(card, found, (65.4, 98.0, 146.8, 220.0), [Scoop(card.board_length_mm, 1.2)] * 4)
    end = card.board_length_mm
    for one, clear in zip(made, found.clearance_mm, strict=True):
        assert float(room_mm(one, 0.0, end) / square(one, end)) == pytest.approx(clear, abs=1e-9)
    # Over the flat, which begins 12 mm from the middle, "square to the board" is square to the flat.
    assert float(square(made[0], end)) == pytest.approx(math.sqrt(1 - (12 / 63) ** 2))
