"""The drawing keeps its measures; rings that no bridge can have are refused by name."""

from dataclasses import replace

import numpy as np
import pytest

from purfling.craft.bridge.mesh import meshed, quality
from purfling.craft.bridge.outline import drawn_outline
from purfling.craft.bridge.places import crown_run, heart_of, legs_of, spans
from purfling.craft.bridge.rings import checked_rings, signed_area, standing
from purfling.craft.refusals import Refusal
from tests.craft.bridge.conftest import measures, rectangle

FAMILIES = ("violin", "viola", "cello")


@pytest.mark.parametrize("family", FAMILIES)
def test_drawing_has_the_measures_it_was_asked_for(family: str) -> None:
    m = measures(family)
    rings = drawn_outline(m)
    soles = standing(rings.outer)
    assert [high - low for low, high in soles] == pytest.approx([m.foot_length_mm] * 2)
    assert soles[1][1] - soles[0][0] == pytest.approx(m.foot_span_mm)
    middle = [b for a, b in spans(rings, m.height_mm - 0.01) if a < 0 < b]
    assert middle
    assert not [b for a, b in spans(rings, m.height_mm + 0.01) if a < 0.001 < b and a > -0.001]
    legs = legs_of(rings)
    assert legs is not None
    assert legs.arch_mm == pytest.approx(m.arch_mm)
    for _, inner, outer in legs.ankles:
        assert abs(outer - inner) == pytest.approx(m.ankle_mm, abs=0.05)
    assert heart_of(rings) == 0
    heart = rings.holes[0]
    assert np.ptp(heart[:, 0]) == pytest.approx(m.heart_mm, rel=0.02)
    assert heart[:, 1].min() == pytest.approx(m.heart_height_mm)


def test_bass_end_of_the_crown_is_higher_by_the_tilt() -> None:
    m = measures()
    rings = drawn_outline(m)
    treble, *_, bass = rings.outer[crown_run(rings.outer)]
    assert (treble[0], bass[0]) == pytest.approx((m.crown_width_mm / 2, -m.crown_width_mm / 2))
    assert bass[1] - treble[1] == pytest.approx(m.crown_tilt_mm, abs=1e-6)


@pytest.mark.parametrize("family", FAMILIES)
def test_mesh_covers_the_wood_with_good_triangles(family: str) -> None:
    rings = drawn_outline(measures(family))
    size = measures(family).foot_span_mm / 41
    mesh = meshed(rings, 0.4 * size, 1.2 * size)
    q = quality(mesh.points, mesh.triangles)
    assert q.min() > 0.4
    assert np.percentile(q, 1) > 0.6
    a, b, c = (mesh.points[mesh.triangles[:, k]] for k in range(3))
    area = 0.5 * ((b - a)[:, 0] * (c - a)[:, 1] - (b - a)[:, 1] * (c - a)[:, 0]).sum()
    assert area == pytest.approx(sum(signed_area(r) for r in mesh.rings.every), rel=1e-12)
    assert area == pytest.approx(sum(signed_area(r) for r in rings.every), rel=2e-3)


def test_mesh_is_the_same_every_time() -> None:
    first, again = (meshed(drawn_outline(measures()), 0.8, 2.0) for _ in range(2))
    assert np.array_equal(first.points, again.points)
    assert np.array_equal(first.triangles, again.triangles)


def test_narrow_slit_between_two_edges_is_meshed() -> None:
    ring = np.array([[-10, 0], [-0.08, 0], [-0.08, 8], [0.08, 8], [0.08, 0], [10, 0], [10, 20], [-10, 20.0]])
    mesh = meshed(checked_rings(ring), 0.5, 2.0)
    assert quality(mesh.points, mesh.triangles).min() > 0.1


def test_too_fine_a_mesh_is_refused_before_it_is_made() -> None:
    with pytest.raises(Refusal, match="mesh_too_fine"):
        meshed(rectangle(90, 90), 0.1, 0.1)


@pytest.mark.parametrize(
    ("ring", "code"),
    [
        ([[-10, 0], [10, 0], [-10, 20], [10, 20]], "self_crossing"),
        ([[-10, 0], [10, 0], [10, 20], [0, 0], [-10, 20]], "self_crossing"),
        ([[-10, 0.5], [10, 0.5], [10, 20], [-10, 20]], "off_the_foot_line"),
        ([[-10, -3], [10, -3], [10, 20], [-10, 20]], "off_the_foot_line"),
        ([[0, 0], [10, 10], [0, 20], [-10, 10]], "feet_do_not_stand"),
        ([[-10, 0], [10, 0]], "no_ring"),
        ([[-10, 0], [10, 0], [1000, 20]], "far_out"),
    ],
)
def test_rings_no_bridge_can_have_are_refused(ring: list[list[float]], code: str) -> None:
    with pytest.raises(Refusal, match=code):
        checked_rings(np.array(ring, dtype=float))


def test_a_hole_through_the_edge_or_outside_is_refused() -> None:
    outer = rectangle(20, 30).outer
    square = np.array([[0, 0], [4, 0], [4, 4], [0, 4.0]])
    with pytest.raises(Refusal, match="self_crossing"):
        checked_rings(outer, (square + np.array([8, 10]),))
    with pytest.raises(Refusal, match="hole_outside"):
        checked_rings(outer, (square + np.array([30, 10]),))


def test_measures_that_contradict_each_other_are_refused() -> None:
    with pytest.raises(Refusal, match="self_crossing"):
        drawn_outline(replace(measures(), arch_mm=20.0))
    with pytest.raises(Refusal, match="crown_too_wide"):
        drawn_outline(replace(measures(), crown_radius_mm=18.0))


def test_edges_under_five_micrometres_are_dropped() -> None:
    ring = np.array([[-10, 0], [10, 0], [10, 0.002], [10, 20], [-10, 20], [-10, 0.001]], dtype=float)
    assert len(checked_rings(ring).outer) == 4


def test_feet_a_hair_off_the_line_stand_all_the_same() -> None:
    # a clamp that looks for exactly y = 0 would leave these feet in the air
    ring = np.array([[-10, 0.008], [0, 0.0], [10, -0.006], [10, 20], [-10, 20]], dtype=float)
    assert standing(checked_rings(ring).outer) == [(-10.0, 10.0)]


def test_crown_runs_over_string_grooves_and_ends_at_the_shoulders() -> None:
    top = [[15, 26], [8, 29], [7.8, 29], [7.8, 28.2], [7.2, 28.2], [7.2, 29.3]]
    left = [[-x, y] for x, y in reversed(top)]
    rings = checked_rings(np.array([[-15, 0], [15, 0], *top, *left], dtype=float))
    run = rings.outer[crown_run(rings.outer)]
    assert run[0] == pytest.approx([15, 26]) and run[-1] == pytest.approx([-15, 26])
    for family in FAMILIES:
        m = measures(family)
        outer = drawn_outline(m).outer
        ends = outer[crown_run(outer)][[0, -1], 0]
        assert ends == pytest.approx([m.crown_width_mm / 2, -m.crown_width_mm / 2])
