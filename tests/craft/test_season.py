"""Season or neck: the worked figure, the identity both ways, the errors against a simulation."""

import dataclasses
import math
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from purfling.craft.refusals import Refusal
from purfling.craft.season import Between, projection_change, yearly_swing
from purfling.craft.setup import setup
from purfling.reckonings.setup.compute import card_of
from purfling.slips.reader import read_slip

EXAMPLES = Path(__file__).parents[2] / "examples"


def between(ds: float, dc: float, db: float, slope: float = 0.0, n: int = 4) -> Between:
    return Between((ds,) * n, (dc,) * n, (db,) * n, 328.0, 270.0, slope)


def test_q13_action_up_0_60_with_the_bridge_unchanged_is_a_projection_down_0_74() -> None:
    # Worked without cos(theta): violin 328 / 270, nut clearance 0.05 less.
    found = projection_change(between(0.60, -0.05, 0.0), 0.1, 0.03, 0.0)
    assert found.projection_change_mm == pytest.approx(-0.74, abs=0.005)


def test_q13_weights_of_the_identity() -> None:
    # ds = 0.177 dc + 0.823 (db - dP), violin.
    u = 270.0 / 328.0
    assert (1 - u, u) == (pytest.approx(0.177, abs=5e-4), pytest.approx(0.823, abs=5e-4))
    found = projection_change(between(0.177 * 0.1 + 0.823 * (0.2 + 0.3), 0.1, 0.2), 0.1, 0.03, 0.2)
    assert found.projection_change_mm == pytest.approx(-0.3, abs=0.002)


@given(st.floats(-2.0, 2.0), st.floats(-0.15, 0.15), st.floats(-1.0, 1.0))
def test_the_set_up_told_backwards(dp: float, dc: float, db: float) -> None:
    # Independent way: the set-up engine finds the notches of two cards; from its clearances and notches alone
    # the change of the projection comes back exactly (board slope kept).
    card = dataclasses.replace(card_of(read_slip(EXAMPLES / "violin.toml")), board_slope_deg=8.3)
    one = setup(card)
    u = card.board_length_mm / card.string_length_mm
    cosine = math.cos(math.radians(8.3))
    ds = (1 - u) * dc + (db - dp) * cosine * u
    later = setup(
        dataclasses.replace(
            card,
            projection_mm=card.projection_mm + dp,
            nut_clearance_mm=tuple(c + dc for c in card.nut_clearance_mm),
            end_clearance_mm=tuple(c + ds for c in card.end_clearance_mm),
        )
    )
    told = Between(
        tuple(b - a for a, b in zip(one.clearance_mm, later.clearance_mm, strict=True)),
        tuple(b - a for a, b in zip(one.nut_clearance_mm, later.nut_clearance_mm, strict=True)),
        tuple(b.notch_height_mm - a.notch_height_mm for a, b in zip(one.strings, later.strings, strict=True)),
        card.string_length_mm,
        card.board_length_mm,
        8.3,
    )
    found = projection_change(told, 0.1, 0.03, 0.2)
    assert found.projection_change_mm == pytest.approx(dp, abs=1e-9)
    assert found.spread_mm == pytest.approx(0.0, abs=1e-9)


def test_errors_against_a_simulation() -> None:
    # Monte Carlo, 20,000 draws (0.5 %): four clearances at end and nut, bridge at its two sides.
    rng = np.random.default_rng(11)
    drawn = []
    for _ in range(20000):
        ds = 0.1 * (rng.standard_normal(4) - rng.standard_normal(4))
        dc = 0.03 * (rng.standard_normal(4) - rng.standard_normal(4))
        low, high = 0.2 * (rng.standard_normal(2) - rng.standard_normal(2))
        db = tuple(low + (high - low) * i / 3 for i in range(4))
        changes = Between(tuple(ds), tuple(dc), db, 328.0, 270.0, 8.3)
        drawn.append(projection_change(changes, 0.1, 0.03, 0.2).projection_change_mm)
    found = projection_change(between(0, 0, 0, 8.3), 0.1, 0.03, 0.2)
    assert found.projection_change_error_mm == pytest.approx(float(np.std(drawn)), rel=0.03)


def test_yearly_swing_against_an_independent_fit() -> None:
    m, p = [6.5, 12.0, 7.0, 12.6, 7.7], [81.5, 80.25, 81.25, 80.0, 81.0]
    found = yearly_swing(m, p)
    coefficients, covariance = np.polyfit(m, p, 1, cov=True)
    assert found.mm_per_percent == pytest.approx(coefficients[0])
    assert found.error == pytest.approx(math.sqrt(covariance[0, 0]))
    assert found.n == 5
    with pytest.raises(Refusal, match="few_years"):
        yearly_swing([8.0, 8.0], [81.0, 80.0])
