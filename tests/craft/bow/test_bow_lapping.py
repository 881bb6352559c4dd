"""The lapping against published weights, worked examples, and laws."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from purfling.craft.bow.lapping import (
    OCTAGON,
    Handle,
    Lapping,
    balance_shift_mm,
    mass_error_g,
    underlay_sheets,
)
from purfling.craft.bow.wire import awg_mm, checked_diameter, material, materials, swg_mm
from purfling.craft.refusals import Refusal

SILVER = 10490.0
STERLING = 10360.0


def close(wire: float, length: float, handle: float, density: float = SILVER) -> Lapping:
    return Lapping(wire, length, Handle(handle, handle), density)


@pytest.mark.parametrize("length", [70.0, 72.5, 75.0])
@pytest.mark.parametrize("density", [SILVER, STERLING])
def test_silver_of_0_30_weighs_up_to_5_g(length: float, density: float) -> None:
    # A bow maker's note on winding materials (2018): silver of about 0.3 mm over 70 to 75 mm weighs
    # "up to 5 g". The note rounds to whole grams, so 5 g is read as below 5.5.
    mass = close(0.30, length, 8.6, density).mass_g
    assert 4.5 < mass < 5.5


def test_octagon_perimeter_of_the_drafting_rule() -> None:
    # Side of an octagon from its width across flats: s = w (sqrt(2) - 1), eight of them.
    assert pytest.approx(8 * (math.sqrt(2) - 1), rel=1e-14) == OCTAGON
    assert Handle(8.0, 8.0, True).girth_mm == pytest.approx(26.51, abs=0.005)


# Worked by hand with close turns, 8.6 under the wire and sterling 10.36 g/cm3; arithmetic, not print.
@pytest.mark.parametrize(
    ("wire", "length", "turns", "metres", "grams"),
    [(0.30, 75.0, 250, 6.99, 5.12), (0.30, 70.0, 233, 6.52, 4.78), (0.25, 75.0, 300, 8.34, 4.24)],
)
def test_hand_worked_windings(wire: float, length: float, turns: int, metres: float, grams: float) -> None:
    made = close(wire, length, 8.6, STERLING)
    assert made.turns == pytest.approx(turns, abs=0.5)
    assert made.wire_length_mm / 1000 == pytest.approx(metres, abs=0.01)
    assert made.mass_g == pytest.approx(grams, abs=0.01)


def test_the_middle_of_the_wire_runs_outside_the_stick() -> None:
    # Left out, the wire comes out 3.4 percent short on 8.5.
    made = close(0.30, 75.0, 8.5)
    assert made.wire_length_mm == pytest.approx(6912.0, abs=0.5)
    assert made.mass_g == pytest.approx(5.125, abs=0.001)
    bare = made.turns * math.hypot(math.pi * 8.5, 0.30)
    assert 1 - bare / made.wire_length_mm == pytest.approx(0.034, abs=0.0005)


def test_wire_is_the_length_of_the_helix() -> None:
    # Independent: the length of (r cos t, r sin t, p t / 2 pi) summed over many small chords.
    made = close(0.30, 30.0, 8.5)
    t = np.linspace(0.0, 2 * math.pi * made.turns, 200_001)
    r = (8.5 + 0.30) / 2
    points = np.stack([r * np.cos(t), r * np.sin(t), 0.30 * t / (2 * math.pi)])
    chords = np.sqrt((np.diff(points, axis=1) ** 2).sum(axis=0)).sum()
    assert made.wire_length_mm == pytest.approx(float(chords), rel=1e-6)


def test_a_thin_wire_is_a_tube_around_the_stick() -> None:
    # Limit: a tube of thickness pi d / 4.
    made = close(0.001, 75.0, 8.5, 1000.0)
    tube = math.pi * 8.5 * 75.0 * (math.pi * 0.001 / 4) * 1e-3
    assert made.mass_g == pytest.approx(tube, rel=2e-4)


def test_strip_and_taper() -> None:
    strip = Lapping(0.5, 60.0, Handle(8.6, 8.2), 1250.0, width_mm=1.2)
    assert strip.turns == pytest.approx(50.0)
    assert strip.section_mm2 == pytest.approx(0.6)
    # A taper: the local turn summed over a thousand places of the length.
    turns = [math.hypot(math.pi * (8.6 - 0.4 * (i + 0.5) / 1000 + 0.5), 1.2) for i in range(1000)]
    assert strip.wire_length_mm == pytest.approx(sum(turns) * 50 / 1000, rel=1e-6)


@given(st.floats(0.15, 0.5), st.floats(40, 110), st.floats(6, 11), st.floats(1.1, 3))
def test_laws_of_scale(wire: float, length: float, handle: float, k: float) -> None:
    made = close(wire, length, handle)
    larger = close(wire * k, length * k, handle * k)
    assert larger.turns == pytest.approx(made.turns)
    assert larger.mass_g == pytest.approx(made.mass_g * k**3)
    longer = close(wire, length * k, handle)
    assert longer.mass_g == pytest.approx(made.mass_g * k)


def test_error_is_that_of_many_tries() -> None:
    rng = np.random.default_rng(7)
    made = close(0.30, 75.0, 8.5)
    d, length, h = (rng.normal(m, s, 4000) for m, s in ((0.30, 0.01), (75, 0.5), (8.5, 0.05)))
    tries = [close(a, b, c).mass_g for a, b, c in zip(d, length, h, strict=True)]
    assert mass_error_g(made, 0.01, 0.5, 0.05) == pytest.approx(float(np.std(tries)), rel=0.05)


def test_shift_of_the_balance() -> None:
    # Lever by hand: 55 g at 250 and 5 g at 110 balance at 238.33.
    assert balance_shift_mm(5.0, 110.0, 55.0, 250.0) == pytest.approx((5 * 110 + 55 * 250) / 60 - 250)
    # A maker's page: 0.3 mm silver on 7 cm, about 5 g, moves the balance about 1 cm to the frog.
    assert balance_shift_mm(5.0, 111.0, 55.5, 245.0) == pytest.approx(-10.0, abs=2.0)


@pytest.mark.parametrize(
    ("wire", "sheet", "sheets"), [(0.30, 0.1, 3), (0.25, 0.1, 2), (0.28, 0.1, 3), (0.3, 0.08, 4)]
)
def test_underlay_is_the_nearest_whole_number_of_sheets(wire: float, sheet: float, sheets: int) -> None:
    assert underlay_sheets(wire, sheet) == sheets
    assert abs(sheets * sheet - wire) <= sheet / 2 + 1e-9


def test_gauge_numbers() -> None:
    # Standard gauge tables: 32 SWG 0.274, 30 SWG 0.315, 32 AWG 0.202, 30 AWG 0.255 mm (from memory).
    assert swg_mm(32) == pytest.approx(0.274, abs=0.0005)
    assert swg_mm(30) == pytest.approx(0.315, abs=0.0005)
    assert awg_mm(32) == pytest.approx(0.202, abs=0.0005)
    assert awg_mm(30) == pytest.approx(0.255, abs=0.0005)
    # By definition: 50 SWG is one mil; AWG runs from 0.46 inch (0000) to 0.005 inch (36).
    assert swg_mm(50) == pytest.approx(0.0254)
    assert awg_mm(36) == pytest.approx(0.127)
    assert awg_mm(-3) == pytest.approx(11.684, abs=1e-3)
    assert all(swg_mm(n) > swg_mm(n + 1) for n in range(50))


@pytest.mark.parametrize(
    ("value", "decimals"),
    [(32.0, False), (1.0, False), (0.0, False), (30.0, True), (1.5, True), (90.0, False)],
)
def test_a_gauge_number_is_refused(value: float, decimals: bool) -> None:
    with pytest.raises(Refusal) as said:
        checked_diameter(value, decimals, "--wire")
    assert said.value.code.startswith("lapping.gauge_")


def test_a_diameter_is_taken() -> None:
    assert checked_diameter(0.3, True, "--wire") == 0.3
    assert checked_diameter(1.0, True, "--wire") == 1.0
    for wrong in (0.0, -0.3):
        with pytest.raises(Refusal, match="not_above"):
            checked_diameter(wrong, True, "--wire")


def test_materials() -> None:
    assert material("Nickel silver").density_kg_m3 == 8700.0
    assert material("sterling").density_kg_m3 < material("silver").density_kg_m3
    wanted = {"silver", "sterling", "nickel_silver", "gold", "copper", "tinsel", "silk", "whalebone"}
    assert wanted <= set(materials())
    with pytest.raises(Refusal, match="unknown_material"):
        material("adamant")
