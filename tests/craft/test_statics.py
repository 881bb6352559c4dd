"""Bridge statics against Hart 1875 and Rossing 2010."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from purfling.craft.statics import foot_loads, string_forces
from purfling.craft.strings import plain_density_g_per_m, tension_n


def test_hart_four_ninths_of_the_tension_is_a_break_angle_of_154_3_degrees() -> None:
    # G. Hart, The Violin (1875), end of section III: 18 lb of tension press with 8 lb, 4/9.
    # The parallelogram gives 2 acos(2/9) = 154.32 degrees between the two sides.
    side = (180.0 - 154.32) / 2
    down, along = string_forces(18.0, side, side)
    assert down == pytest.approx(8.0, abs=0.001)
    assert along == pytest.approx(0.0, abs=1e-12)


@pytest.mark.parametrize(("string", "treble_share"), [(3, 1.0), (2, 2 / 3), (1, 1 / 3), (0, 0.0)])
def test_hart_shares_of_the_treble_foot(string: int, treble_share: float) -> None:
    # Hart 1875: highest string wholly on the treble foot, then 2/3, 1/3, and nothing of the lowest:
    # the lever rule with notches at -d/2, -d/6, d/6, d/2.
    d = 30.0
    lateral = [-d / 2, -d / 6, d / 6, d / 2]
    down = [0.0] * 4
    down[string] = 8.0
    bass, treble = foot_loads(down, lateral, d)
    assert treble == pytest.approx(8.0 * treble_share, abs=1e-12)
    assert bass + treble == pytest.approx(8.0)


def test_hart_four_equal_strings_press_16_pounds_on_each_foot() -> None:
    bass, treble = foot_loads([8.0] * 4, [-15.0, -5.0, 5.0, 15.0], 30.0)
    assert (bass, treble) == (pytest.approx(16.0), pytest.approx(16.0))


# T. D. Rossing (ed.), The Science of String Instruments (2010), table 16.1: density g/m, tension N.
ROSSING = [
    ("violin E", 0.3285, 659.26, (0.38, 0.48), (71.4, 90.7)),
    ("violin A", 0.3285, 440.00, (0.58, 0.75), (48.3, 62.7)),
    ("violin D", 0.3285, 293.66, (0.92, 1.63), (34.3, 60.6)),
    ("violin G", 0.3285, 196.00, (2.12, 3.09), (35.0, 51.1)),
    ("viola A", 0.3745, 440.00, (0.56, 0.92), (60.6, 100.2)),
    ("viola D", 0.3745, 293.66, (0.98, 1.25), (47.6, 60.7)),
    ("viola G", 0.3745, 196.00, (2.20, 2.81), (47.6, 60.7)),
    ("viola C", 0.3745, 130.81, (4.95, 6.31), (47.6, 60.7)),
    ("cello A", 0.6905, 220.00, (1.50, 1.92), (138.3, 177.2)),
    ("cello D", 0.6905, 146.83, (2.94, 3.57), (121.0, 146.9)),
    ("cello G", 0.6905, 98.00, (6.38, 7.56), (116.8, 138.3)),
    ("cello C", 0.6905, 65.41, (14.33, 16.98), (116.7, 138.3)),
]


@pytest.mark.parametrize(("name", "length_m", "pitch", "density", "tension"), ROSSING)
def test_printed_tension_ranges_follow_from_printed_densities(
    name: str, length_m: float, pitch: float, density: tuple[float, float], tension: tuple[float, float]
) -> None:
    # One string length per instrument reproduces both ends of every printed range within 2 %.
    for mu, printed in zip(density, tension, strict=True):
        assert tension_n(mu, length_m * 1000, pitch) == pytest.approx(printed, rel=0.02), name


@pytest.mark.parametrize(
    ("diameter", "pitch", "printed_kgf"), [(0.65, 660.0, 8.3), (1.45, 293.33, 8.3), (0.62, 660.0, 7.6)]
)
def test_plain_gut_of_peruffo(diameter: float, pitch: float, printed_kgf: float) -> None:
    # M. Peruffo, article on tensions: a = 440, L = 0.33 m, gut 1300 kg/m3; printed to 0.1 kgf.
    mu = plain_density_g_per_m(diameter, 1300.0)
    assert tension_n(mu, 330.0, pitch) / 9.80665 == pytest.approx(printed_kgf, abs=0.1)


def test_mass_ratios_of_four_strings_in_fifths() -> None:
    # Giancoli, Physics, 7th ed.: equal tension, each string 1.5 times its neighbour: 1, 0.44, 0.20, 0.088.
    ratios = [tension_n(1.0, 325.0, 1.5**0) / tension_n(1.0, 325.0, 1.5**i) for i in range(4)]
    assert ratios == [pytest.approx(v, rel=0.02) for v in (1.0, 0.44, 0.20, 0.088)]


@given(
    st.lists(st.tuples(st.floats(0, 100), st.floats(-20, 20)), min_size=1, max_size=6),
    st.floats(20, 80),
)
def test_feet_carry_the_whole_load_and_a_mirror_swaps_them(rows: list[tuple[float, float]], d: float) -> None:
    down = [r[0] for r in rows]
    lateral = [r[1] for r in rows]
    bass, treble = foot_loads(down, lateral, d)
    assert bass + treble == pytest.approx(math.fsum(down), abs=1e-9)
    mirrored = foot_loads(down, [-y for y in lateral], d)
    assert mirrored == (pytest.approx(treble, abs=1e-9), pytest.approx(bass, abs=1e-9))
