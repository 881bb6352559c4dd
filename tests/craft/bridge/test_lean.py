"""Lean and bend: the column in closed form, the guard at its critical load, the verdicts."""

import math

import numpy as np
import pytest

from purfling.craft.bridge.lean import (
    LeanLimits,
    LeanLoad,
    bent,
    column_of,
    critical_load,
    greatest_stress,
    judged,
    leaned,
)
from purfling.craft.bridge.outline import drawn_outline
from purfling.craft.bridge.thickness import thickness_by_rule
from tests.craft.bridge.conftest import measures, rectangle

E, B, H, L = 1829.52, 20.0, 3.0, 33.0
INERTIA = B * H**3 / 12
LIMITS = LeanLimits(1.0, 2.0, 0.5, 1.0, 5.0, 10.0, 1.32)
RINGS = rectangle(B, L)
THICK = thickness_by_rule(RINGS, H, H)
COLUMN = column_of(RINGS, THICK)


def leaning(angle: float) -> np.ndarray:
    t = math.tan(math.radians(angle))
    return np.column_stack([t * COLUMN.heights_mm, np.full(len(COLUMN.heights_mm), t)])


def test_uniform_column_gives_way_at_eulers_loads() -> None:
    assert critical_load(COLUMN, E, False) == pytest.approx(math.pi**2 * E * INERTIA / (4 * L**2), rel=1e-6)
    # clamped and pinned: tan(kL) = kL, kL = 4.493409
    assert critical_load(COLUMN, E, True) == pytest.approx(4.493409458**2 * E * INERTIA / L**2, rel=1e-5)


@pytest.mark.parametrize("load", [10.0, 80.0, 150.0, 180.0])
def test_leaning_column_bends_as_the_closed_form_says(load: float) -> None:
    # tip = t L (tan(kL)/(kL) - 1), base moment P t tan(kL)/k
    k, t = math.sqrt(load / (E * INERTIA)), math.tan(math.radians(2.0))
    found = bent(COLUMN, E, load, leaning(2.0), False)
    assert found is not None
    assert found[-1, 0] == pytest.approx(t * L * (math.tan(k * L) / (k * L) - 1), rel=1e-5)
    stress = load / (B * H) + load * t * math.tan(k * L) / k * (H / 2) / INERTIA
    assert greatest_stress(COLUMN, E, load, found) == pytest.approx(stress, rel=1e-3)


def test_at_and_over_the_critical_load_there_is_no_answer() -> None:
    critical = critical_load(COLUMN, E, False)
    assert bent(COLUMN, E, 0.999 * critical, leaning(1.0), False) is not None
    assert bent(COLUMN, E, critical, leaning(1.0), False) is None
    assert bent(COLUMN, E, 1.5 * critical, leaning(1.0), False) is None
    free = leaned(COLUMN, THICK, E, LeanLoad(1.0, "centre", 0.0, 1.5 * critical, 0.0), LIMITS)
    assert free.stress_free_mpa is None and free.tip_mm is None
    assert free.stress_held_mpa is not None and free.reserve_free == pytest.approx(1 / 1.5)


def test_straight_leaning_column_with_its_top_held_is_only_pressed() -> None:
    found = bent(COLUMN, E, 100.0, leaning(3.0), True)
    assert found is not None
    assert np.abs(found[:, 0]).max() < 1e-9
    assert greatest_stress(COLUMN, E, 100.0, found) == pytest.approx(100.0 / (B * H), rel=1e-6)


def test_creep_weakens_the_column_by_one_plus_phi() -> None:
    load = LeanLoad(1.0, "centre", 0.0, 80.0, 0.5)
    slow = leaned(COLUMN, THICK, E, load, LIMITS)
    fast = leaned(COLUMN, THICK, E / 1.5, LeanLoad(1.0, "centre", 0.0, 80.0, 0.0), LIMITS)
    assert slow.stress_free_mpa == pytest.approx(fast.stress_free_mpa)
    assert slow.reserve_free == pytest.approx(critical_load(COLUMN, E, False) / (80.0 * 1.5))


def test_flat_back_upright_tilts_the_centre_line_by_two_and_a_half_degrees() -> None:
    rings = drawn_outline(measures())
    thick = thickness_by_rule(rings, 4.2, 1.3)
    column = column_of(rings, thick)
    by_back = leaned(column, thick, E, LeanLoad(0.0, "back", 0.0, 88.0, 0.6), LIMITS)
    assert by_back.centre_deg == pytest.approx(-2.5, abs=0.1)
    by_centre = leaned(column, thick, E, LeanLoad(by_back.centre_deg, "centre", 0.0, 88.0, 0.6), LIMITS)
    assert by_centre.back_deg == pytest.approx(0.0, abs=1e-9)
    assert by_centre.stress_free_mpa == pytest.approx(by_back.stress_free_mpa)


def test_held_top_is_stronger_and_less_pressed_than_a_free_one() -> None:
    rings = drawn_outline(measures())
    thick = thickness_by_rule(rings, 4.3, 1.3)
    found = leaned(column_of(rings, thick), thick, E, LeanLoad(1.0, "back", 0.3, 88.0, 0.6), LIMITS)
    assert found.reserve_held > 3 * found.reserve_free > 3
    assert found.stress_held_mpa < found.stress_free_mpa


def test_halving_the_slices_changes_little() -> None:
    rings = drawn_outline(measures())
    thick = thickness_by_rule(rings, 4.3, 1.3)
    coarse, fine = (critical_load(column_of(rings, thick, n), E, False) for n in (60, 240))
    assert coarse == pytest.approx(fine, rel=0.02)


@pytest.mark.parametrize(
    ("back", "bend", "stress", "reserve", "verdict"),
    [
        (0.0, 0.0, 2.0, 6.0, "leave"),
        (-1.2, 0.0, 2.0, 6.0, "watch"),
        (0.0, 0.6, 2.0, 6.0, "watch"),
        (0.0, 0.0, 5.5, 6.0, "watch"),
        (2.0, 0.0, 2.0, 6.0, "straighten"),
        (-2.5, 0.6, 2.0, 6.0, "straighten"),
        (0.0, 1.0, 2.0, 6.0, "replace"),
        (0.0, 0.0, 10.0, 6.0, "replace"),
        (0.0, 0.0, 2.0, 1.2, "replace"),
        (0.0, 0.0, None, 0.9, "replace"),
    ],
)
def test_verdicts(back: float, bend: float, stress: float | None, reserve: float, verdict: str) -> None:
    assert judged(back, bend, stress, reserve, LIMITS) == verdict
