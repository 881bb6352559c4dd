"""Mass and balance against closed forms, sums that must close, and the mesh's own quadrature."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from purfling.craft.bridge.outline import drawn_outline
from purfling.craft.bridge.places import waist_of
from purfling.craft.bridge.rings import checked_rings
from purfling.craft.bridge.section import fitted_density, weighed
from purfling.craft.bridge.thickness import thickness_by_rule, thickness_by_stations
from purfling.craft.refusals import Refusal
from tests.craft.bridge.conftest import bridge_plate, measures, rectangle


def test_wedge_has_the_mass_and_centre_of_its_closed_form() -> None:
    # b (t0 + t1) / 2 H, centre H (t0 + 2 t1) / (3 (t0 + t1))
    rings = rectangle(20, 30)
    found = weighed(rings, thickness_by_rule(rings, 4.0, 1.0), 700.0)
    assert found.mass_g == pytest.approx(20 * 2.5 * 30 * 700e-6, rel=1e-12)
    assert found.centre_mm == pytest.approx((0.0, 30 * 6 / 15), abs=1e-9)


def test_bulged_front_adds_two_thirds_of_the_bulge() -> None:
    rings = rectangle(20, 30)
    flat = weighed(rings, thickness_by_rule(rings, 4.0, 1.0), 700.0)
    curved = weighed(rings, thickness_by_rule(rings, 4.0, 1.0, bulge_mm=0.6), 700.0)
    assert curved.volume_mm3 - flat.volume_mm3 == pytest.approx(20 * 30 * 0.4, rel=1e-12)


def test_stations_are_joined_by_straight_lines() -> None:
    rings = rectangle(10, 30)
    found = weighed(rings, thickness_by_stations(rings, ((0, 4), (10, 2), (30, 1))), 1000.0)
    assert found.volume_mm3 == pytest.approx(10 * (30 + 30), rel=1e-12)
    assert found.centre_mm[1] == pytest.approx(
        (10 * (20 * 5 + 2 / 2 * 10 * 10 / 3) + 10 * (20 * 20 + 0.5 * 20 * (10 + 20 / 3))) / 600, rel=1e-9
    )


def test_a_hole_takes_its_own_mass_off() -> None:
    outer = rectangle(20, 30)
    hole = np.array([[-2, 10], [2, 10], [2, 16], [-2, 16.0]])
    holed = checked_rings(outer.outer, (hole,))
    alone = checked_rings(hole - [0, 10])
    thick = thickness_by_rule(outer, 3.0, 3.0)
    assert weighed(outer, thick, 700).mass_g - weighed(holed, thick, 700).mass_g == pytest.approx(
        weighed(alone, thick, 700).mass_g, rel=1e-12
    )


@given(st.floats(2.0, 31.0))
def test_parts_above_and_below_any_height_make_the_whole(height: float) -> None:
    rings = drawn_outline(measures())
    thick = thickness_by_rule(rings, 4.3, 1.3)
    whole = weighed(rings, thick, 705.6)
    above, below = weighed(rings, thick, 705.6, height, True), weighed(rings, thick, 705.6, height, False)
    assert above.mass_g + below.mass_g == pytest.approx(whole.mass_g, rel=1e-7)
    moment = above.mass_g * above.centre_mm[1] + below.mass_g * below.centre_mm[1]
    assert moment == pytest.approx(whole.mass_g * whole.centre_mm[1], rel=1e-7)


def test_the_mesh_weighs_what_its_rings_weigh() -> None:
    bridge = bridge_plate(drawn_outline(measures()))
    one = np.zeros(2 * bridge.net.count)
    one[bridge.net.count :] = 1
    assert float(one @ (bridge.m @ one)) * 1e6 == pytest.approx(
        weighed(bridge.mesh.rings, bridge.thickness, 705.6).mass_g, rel=1e-6
    )


def test_twice_the_size_and_thickness_weighs_eight_times() -> None:
    rings = drawn_outline(measures())
    large = checked_rings(2 * rings.outer, tuple(2 * h for h in rings.holes))
    small = weighed(rings, thickness_by_rule(rings, 4.3, 1.3), 700)
    assert weighed(large, thickness_by_rule(large, 8.6, 2.6), 700).mass_g == pytest.approx(
        8 * small.mass_g, rel=1e-9
    )


def test_density_fitted_from_a_weighing_gives_the_weighing_back() -> None:
    rings = drawn_outline(measures())
    thick = thickness_by_rule(rings, 4.3, 1.3)
    density = fitted_density(weighed(rings, thick, 1.0).volume_mm3, 1.52)
    assert weighed(rings, thick, density).mass_g == pytest.approx(1.52, rel=1e-12)


def test_edge_rule_makes_the_crown_uniform_and_height_rule_does_not() -> None:
    rings = drawn_outline(measures())
    edge, height = thickness_by_rule(rings, 4.3, 1.3), thickness_by_rule(rings, 4.3, 1.3, "height")
    crown = rings.outer[(np.abs(rings.outer[:, 0]) < 15) & (rings.outer[:, 1] > 28)]
    assert edge.at(crown[:, 0], crown[:, 1]) == pytest.approx(1.3, abs=1e-6)
    assert np.ptp(height.at(crown[:, 0], crown[:, 1])) > 0.2
    assert edge.at(np.zeros(1), np.zeros(1))[0] == pytest.approx(4.3)


def test_wood_thinner_than_three_tenths_is_refused() -> None:
    rings = rectangle(20, 30)
    with pytest.raises(Refusal, match="too_thin"):
        thickness_by_rule(rings, 3.0, 0.29)
    with pytest.raises(Refusal, match="too_thin"):
        thickness_by_stations(rings, ((0, 3), (15, 0.2), (30, 2)))
    assert thickness_by_rule(rings, 3.0, 0.3).top_mm == 0.3


def test_our_drawings_have_a_waist_where_they_were_given_one() -> None:
    for family in ("violin", "viola", "cello"):
        m = measures(family)
        waist = waist_of(drawn_outline(m))
        assert waist is not None
        assert waist.treble_mm - waist.bass_mm == pytest.approx(m.waist_mm, abs=0.02)
        assert waist.height_mm == pytest.approx(m.waist_height_mm, abs=0.02 * m.height_mm)
    assert waist_of(rectangle(20, 30)) is None
