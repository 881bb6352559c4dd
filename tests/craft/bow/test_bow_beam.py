"""The tapered beam against textbook closed forms and an independent quadrature."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from purfling.craft.bow.beam import (
    buckling_n,
    cantilever_per_n,
    deflection_per_n,
    free_frequency_hz,
    hair_pull,
)
from purfling.craft.bow.stick import BENDING, Stick, law_stick
from purfling.craft.refusals import Refusal

ROD = Stick((0.0, 700.0), (8.0, 8.0))
E = 24000.0
EI = E * BENDING["round"] * 8.0**4
LAW = law_stick(700.0)


def test_cantilever() -> None:
    # Tip load on a uniform cantilever: L^3 / 3 EI.
    assert cantilever_per_n(ROD, E) == pytest.approx(700.0**3 / (3 * EI), rel=1e-6)


def test_three_point() -> None:
    # Load in the middle of a uniform beam: L^3 / 48 EI; off the middle: a^2 b^2 / 3 L EI.
    assert deflection_per_n(ROD, (50.0, 650.0), 350.0, E) == pytest.approx(600.0**3 / (48 * EI), rel=1e-6)
    a, b = 213.7, 386.3
    want = a * a * b * b / (3 * 600.0 * EI)
    assert deflection_per_n(ROD, (50.0, 650.0), 50.0 + a, E) == pytest.approx(want, rel=1e-6)


def test_overhanging_load() -> None:
    # Load at the end of an overhang c beyond supports L apart: c^2 (L + c) / 3 EI.
    c, span = 100.0, 500.0
    assert deflection_per_n(ROD, (100.0, 600.0), 700.0, E) == pytest.approx(
        c * c * (span + c) / (3 * EI), rel=1e-6
    )


def test_tapered_stick_against_the_unit_load_quadrature() -> None:
    # Independent: integral of M^2 / EI for a unit load (virtual work), by adaptive quadrature.
    low, high, at = 50.0, 690.0, 370.0
    modulus = 25000.0

    def moment(x: float) -> float:
        return (high - at) * (x - low) / (high - low) if x < at else (at - low) * (high - x) / (high - low)

    want = quad(
        lambda x: moment(x) ** 2 / (modulus * float(LAW.bending(np.array([x]))[0])),
        low, high, points=[110.0, at], epsrel=1e-11,
    )[0]  # fmt: skip
    found = deflection_per_n(LAW, (low, high), at, modulus)
    assert found == pytest.approx(want, rel=1e-6)
    assert found == pytest.approx(1.374, abs=0.0005)


def test_euler_load() -> None:
    assert buckling_n(ROD, E) == pytest.approx(math.pi**2 * EI / 700.0**2, rel=1e-6)


def test_buckling_of_a_step_lies_between_its_rods() -> None:
    # Rayleigh: a stick is no weaker than its thinnest rod and no stronger than its thickest.
    load = buckling_n(LAW, E)
    unit = E * BENDING["round"] * math.pi**2 / 700.0**2
    assert unit * 5.3**4 < load < unit * 8.6**4
    # Gough 2011: playing hair tensions (some 60 N, from memory) are comparable with the buckling load.
    assert 55 < load < 95


def test_buckling_against_a_finite_difference_eigenproblem() -> None:
    # Independent: hinged column, M'' + P M / EI = 0 on a uniform grid, dense symmetric eigenvalues.
    n = 1200
    x = np.linspace(0, 700, n + 1)[1:-1]
    h = 700 / n
    bending = E * LAW.bending(x)
    root = np.sqrt(bending)
    matrix = (np.diag(2 * np.ones(n - 1)) - np.diag(np.ones(n - 2), 1) - np.diag(np.ones(n - 2), -1)) / h**2
    values = np.linalg.eigvalsh(root[:, None] * matrix * root[None, :])
    assert buckling_n(LAW, E) == pytest.approx(float(values[0]), rel=2e-5)


def test_free_free_bar() -> None:
    # Uniform free bar: beta L = 4.730040745 and 7.853204624, f = (beta L)^2 / (2 pi L^2) sqrt(EI / rho A).
    speed = math.sqrt(E * 1e6 / 1000.0) * 0.008 / 4
    for mode, beta in ((1, 4.730040745), (2, 7.853204624)):
        want = beta**2 / (2 * math.pi * 0.7**2) * speed
        assert free_frequency_hz(ROD, E, 1000.0, mode=mode) == pytest.approx(want, rel=1e-6)


@pytest.mark.parametrize("share", [0.05, 0.3, 0.6, 0.9])
def test_secant_formula(share: float) -> None:
    # Eccentric strut (Timoshenko): middle e (sec(k L / 2) - 1), k = sqrt(P / EI).
    pull = share * math.pi**2 * EI / 700.0**2
    e = 20.0
    k = math.sqrt(pull / EI)
    want = e * (1 / math.cos(k * 700 / 2) - 1)
    # A hundred elements: near buckling the round-off of a finer mesh is larger than its gain.
    found = hair_pull(ROD, E, pull, (e, e), elements=100)
    assert float(np.interp(350.0, found.nodes_mm, found.rise_mm)) == pytest.approx(want, rel=1e-6)


@pytest.mark.parametrize("share", [0.1, 0.5, 0.8])
def test_a_half_sine_of_camber_grows_as_perry_says(share: float) -> None:
    # Initial half sine a0 under thrust P: added a0 p / (1 - p), p = P / Pcr (Perry, Robertson). Camber
    # lies towards the hair, so the stick moves the other way: rise is negative, the camber deepens.
    pull = share * math.pi**2 * EI / 700.0**2
    x = np.linspace(0, 700, 701)
    camber = 15.0 * np.sin(math.pi * x / 700)
    found = hair_pull(ROD, E, pull, (0.0, 0.0), (x, camber))
    middle = float(np.interp(350.0, found.nodes_mm, found.rise_mm))
    assert middle == pytest.approx(-15.0 * share / (1 - share), rel=2e-4)


def test_hair_straightens_a_cambered_bow() -> None:
    x = np.linspace(0, 700, 701)
    camber = 15.0 * np.sin(math.pi * x / 700)
    straight = hair_pull(LAW, E, 30.0, (20.0, 22.0)).rise_mm.max()
    curved = hair_pull(LAW, E, 30.0, (20.0, 22.0), (x, camber)).rise_mm.max()
    assert 0 < curved < straight


def test_dropping_the_geometric_term_is_badly_wrong_above_20_n() -> None:
    few, many = (float(hair_pull(LAW, E, t, (20.0, 20.0)).rise_mm.max()) for t in (0.01, 30.0))
    linear = few / 0.01 * 30.0
    assert many > 1.4 * linear


def test_beyond_buckling_is_refused() -> None:
    with pytest.raises(Refusal, match="beyond_buckling"):
        hair_pull(ROD, E, 1.01 * math.pi**2 * EI / 700.0**2, (20.0, 20.0))


@given(st.floats(1.05, 3.0))
def test_laws_of_scale(k: float) -> None:
    thick = Stick((0.0, 700.0), (8.6 * k, 5.3 * k))
    thin = Stick((0.0, 700.0), (8.6, 5.3))
    supports = (50.0, 650.0)
    assert deflection_per_n(thick, supports, 300.0, E, 100) == pytest.approx(
        deflection_per_n(thin, supports, 300.0, E, 100) / k**4, rel=1e-8
    )
    assert buckling_n(thin, E * k, 100) == pytest.approx(k * buckling_n(thin, E, 100), rel=1e-8)


def test_finer_elements_change_nothing() -> None:
    coarse, fine = (deflection_per_n(LAW, (50, 690), 370.0, E, n) for n in (100, 400))
    assert coarse == pytest.approx(fine, rel=1e-6)


@pytest.mark.parametrize(
    "case", [((-5.0, 600.0), 300.0), ((50.0, 800.0), 300.0), ((50.0, 600.0), 900.0), ((300.0, 300.0), 300.0)]
)
def test_a_rig_off_the_stick_is_refused(case: tuple[tuple[float, float], float]) -> None:
    with pytest.raises(Refusal):
        deflection_per_n(ROD, case[0], case[1], E)
