"""The inverse: what was wound is found again; what cannot be is told."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from purfling.craft.bow.balance import Body, WholeBow, together
from purfling.craft.bow.lapping import Handle, Lapping
from purfling.craft.bow.reach import Bounds, Wish, lapping_mass, region, relapped, search
from purfling.craft.bow.wire import material

BARE = WholeBow(55.8, 249.0)
HANDLE = Handle(8.6, 8.5)
BOUNDS = Bounds((0.20, 0.40), (50.0, 100.0))
SILVER = material("silver")
START = 75.0


def wound(wire: float, length: float) -> WholeBow:
    mass = Lapping(wire, length, HANDLE, SILVER.density_kg_m3).mass_g
    return together([BARE, Body("lapping", mass, START + length / 2)])


@settings(max_examples=25)
@given(st.floats(0.21, 0.39), st.floats(51, 99))
def test_what_was_wound_is_found_again(wire: float, length: float) -> None:
    target = wound(wire, length)
    (found,) = search(BARE, Wish(target.mass_g, target.at_mm), HANDLE, START, [SILVER], BOUNDS)
    assert found.wire_mm == pytest.approx(wire, rel=1e-9)
    assert found.length_mm == pytest.approx(length, rel=1e-9)
    assert found.miss < 1e-9


def test_out_of_reach_gives_the_nearest_within_bounds() -> None:
    (found,) = search(BARE, Wish(70.0, 200.0), HANDLE, START, [SILVER], BOUNDS)
    assert found.miss > 1.0
    assert 0.20 <= found.wire_mm <= 0.40 and 50.0 <= found.length_mm <= 100.0
    # Brute force over a fine grid finds nothing nearer.
    wires = np.linspace(0.20, 0.40, 401)[:, None]
    lengths = np.linspace(50, 100, 401)[None, :]
    mass, at = relapped(BARE, lapping_mass(wires, lengths, HANDLE, SILVER.density_kg_m3), START, lengths)
    brute = np.sqrt((mass - 70.0) ** 2 + ((at - 200.0) / 2) ** 2).min()
    assert found.miss <= brute + 1e-6


def test_weight_alone_or_balance_alone() -> None:
    (by_mass,) = search(BARE, Wish(60.0, None), HANDLE, START, [SILVER], BOUNDS)
    assert by_mass.bow.mass_g == pytest.approx(60.0, abs=1e-3)
    (by_place,) = search(BARE, Wish(None, 240.0), HANDLE, START, [SILVER], BOUNDS)
    assert by_place.bow.at_mm == pytest.approx(240.0, abs=1e-2)


def crossings(point: tuple[float, float], outline: list[tuple[float, float]]) -> int:
    """How often an upward ray from a point crosses an outline."""
    x, y = point
    count = 0
    for (x1, y1), (x2, y2) in zip(outline, outline[1:] + outline[:1], strict=True):
        if (x1 > x) != (x2 > x) and y < y1 + (y2 - y1) * (x - x1) / (x2 - x1):
            count += 1
    return count


def test_region_holds_the_lappings_between_its_corners() -> None:
    outline = region(BARE, HANDLE, START, SILVER.density_kg_m3, BOUNDS, n=200)
    for wire, length in ((0.20, 50.0), (0.40, 100.0)):
        corner = wound(wire, length)
        assert any(p == pytest.approx((corner.mass_g, corner.at_mm)) for p in outline)
    for wire, length in ((0.30, 75.0), (0.22, 90.0), (0.38, 60.0)):
        bow = wound(wire, length)
        assert crossings((bow.mass_g, bow.at_mm), outline) % 2 == 1
    assert crossings((BARE.mass_g, BARE.at_mm), outline) % 2 == 0


def test_a_lighter_wish_than_the_bare_bow_is_no_division_by_nothing() -> None:
    (found,) = search(BARE, Wish(50.0, 250.0), HANDLE, START, [SILVER], BOUNDS)
    assert found.wire_mm == pytest.approx(0.20) and found.length_mm == pytest.approx(50.0)
