"""The lumped bridge with printed constants, the added mass, the wood's constants and guard."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from purfling.craft.bridge.lumped import (
    Lumped,
    bouncing_hz,
    effective_mass,
    loaded_frequency,
    mass_at_string_g,
    rocking_hz,
    taps_mean,
)
from purfling.craft.bridge.wood import (
    Wood,
    bridge_table,
    checked_wood,
    compliance,
    stiffness,
    upright_modulus,
)
from purfling.craft.refusals import Refusal
from tests.craft.bridge.conftest import MAPLE

# constants printed in IRCAM's reference of a physical-modelling synthesiser, violin bridge
PRINTED = Lumped(1.77, 1.3e6, 6.5, 13.0, 21.0)


def test_printed_constants_give_the_printed_frequencies() -> None:
    assert bouncing_hz(PRINTED) == pytest.approx(6100, rel=1e-3)
    assert rocking_hz(PRINTED) == pytest.approx(3050, rel=1e-3)
    assert rocking_hz(PRINTED) / bouncing_hz(PRINTED) == pytest.approx(6.5 / 13.0)
    assert mass_at_string_g(PRINTED) == pytest.approx(0.678, abs=1e-3)


def test_added_mass_as_printed_and_back() -> None:
    # 0.678 g, 20 mg at 3050 Hz: 3005.9 Hz; a mute of 1.5 g: 1702 Hz
    me = mass_at_string_g(PRINTED)
    assert loaded_frequency(rocking_hz(PRINTED), me, 20.0) == pytest.approx(3005.9, abs=0.1)
    assert loaded_frequency(rocking_hz(PRINTED), me, 1500.0) == pytest.approx(1702, abs=1)
    assert effective_mass(rocking_hz(PRINTED), 3005.9, 20.0) == pytest.approx(0.6783, rel=5e-3)


@given(st.floats(500, 8000), st.floats(0.05, 20), st.floats(1, 3000))
def test_added_mass_round_trip(frequency: float, mass: float, added: float) -> None:
    assert effective_mass(frequency, loaded_frequency(frequency, mass, added), added) == pytest.approx(
        mass, rel=1e-6
    )


def test_added_mass_that_raises_the_frequency_is_refused() -> None:
    with pytest.raises(Refusal, match="not_lower"):
        effective_mass(3000.0, 3000.0, 20.0)


def test_mean_of_taps_has_its_standard_error() -> None:
    assert taps_mean((2900.0, 3000.0, 3100.0)) == (3000.0, pytest.approx(100 / math.sqrt(3)))
    assert taps_mean((2900.0,)) == (2900.0, None)


def test_presets_are_the_handbooks_ratios() -> None:
    # Wood Handbook (from memory): ER/EL .132 and .140, GLR/EL .111 and .133; EL 1.10 times 12.6 and 11.3 GPa
    for name, el, er, g in (("maple", 12600, 0.132, 0.111), ("red maple", 11300, 0.140, 0.133)):
        row = bridge_table()["wood"][name]
        assert row["EL_MPa"] == pytest.approx(1.1 * el)
        assert row["ER_MPa"] == pytest.approx(1.1 * el * er, rel=1e-5)
        assert row["GLR_MPa"] == pytest.approx(1.1 * el * g, rel=1e-5)


def test_printed_poisson_ratios_are_reciprocal_only_within_a_quarter() -> None:
    # nu_LR / E_L = nu_RL / E_R; the printed nu_RL .065 misses it by 16 %
    implied = MAPLE.nuLR * MAPLE.ER_MPa / MAPLE.EL_MPa
    assert implied == pytest.approx(0.065, rel=0.25)
    assert implied != pytest.approx(0.065, rel=0.1)


@pytest.mark.parametrize(
    ("change", "code"),
    [
        ({"nuLR": 2.8}, "energy"),
        ({"nuLR": -2.8}, "energy"),
        ({"ER_MPa": 0.0}, "not_positive"),
        ({"GLR_MPa": -1.0}, "not_positive"),
        ({"density_kg_m3": 0.0}, "not_positive"),
    ],
)
def test_constants_that_break_the_energy_are_refused(change: dict[str, float], code: str) -> None:
    with pytest.raises(Refusal, match=code):
        checked_wood(replace(MAPLE, **change))


@given(st.floats(-2.7, 2.7), st.floats(-90, 90))
def test_allowed_wood_has_positive_energy_at_every_angle(nu: float, grain: float) -> None:
    wood = checked_wood(replace(MAPLE, nuLR=nu, grain_deg=grain))
    assert np.linalg.eigvalsh(stiffness(wood)).min() > 0


def test_turned_wood_against_the_transformed_modulus() -> None:
    # 1/E(t) = c^4/EL + s^4/ER + c^2 s^2 (1/G - 2 nu/EL), t from the grain (Lekhnitskii)
    for grain in (0.0, 20.0, 45.0, 90.0):
        t = math.radians(90.0 - grain)
        c, s = math.cos(t) ** 2, math.sin(t) ** 2
        exact = 1 / (c * c / 13860 + s * s / 1829.52 + c * s * (1 / 1538.46 - 2 * 0.424 / 13860))
        assert upright_modulus(replace(MAPLE, grain_deg=grain)) == pytest.approx(exact, rel=1e-9)
    assert compliance(replace(MAPLE, grain_deg=30.0))[0, 2] != 0.0
    isotropic = Wood(1000.0, 1000.0, 1000 / 2.6, 0.3, 700.0, 37.0)
    assert stiffness(isotropic) == pytest.approx(stiffness(replace(isotropic, grain_deg=0.0)), abs=1e-6)
