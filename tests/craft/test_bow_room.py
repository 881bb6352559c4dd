"""The bow's room: the worked sagittas and steps, then laws."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from purfling.craft.bow_room import bow_room, edge_room, sagitta_mm
from purfling.craft.refusals import Refusal


def on_circle(radius: float, spacing: float = 33.5, n: int = 4) -> tuple[list[float], list[float]]:
    y = [(i / (n - 1) - 0.5) * spacing for i in range(n)]
    return y, [math.sqrt(radius**2 - v * v) for v in y]


@pytest.mark.parametrize(("radius", "expected"), [(42.0, 1.56), (40.0, 1.65), (44.0, 1.48)])
def test_q15_middle_string_over_its_neighbours_chord(radius: float, expected: float) -> None:
    # 1.65 is printed for radius 40, the exact arc gives 1.642: hence 0.01.
    room = bow_room(*on_circle(radius))
    assert [m.over_chord_mm for m in room.middle] == pytest.approx([expected, expected], abs=0.01)
    exact = math.sqrt(radius**2 - (33.5 / 6) ** 2) - math.sqrt(radius**2 - (33.5 / 2) ** 2)
    assert sagitta_mm(radius, 33.5) == pytest.approx(exact / 2, rel=1e-12)


def test_q15_step_between_string_planes() -> None:
    # Radius 42, span 33.5: 15.7 degrees from string to string on the mean (2 x 23.5 over three steps).
    room = bow_room(*on_circle(42.0))
    assert room.mean_step_deg == pytest.approx(15.7, abs=0.05)
    assert room.curve.radius_mm == pytest.approx(42.0, abs=1e-6)


@given(st.floats(36.0, 60.0), st.floats(28.0, 40.0))
def test_tilt_on_a_middle_string_is_between_its_double_stops(radius: float, spacing: float) -> None:
    room = bow_room(*on_circle(radius, spacing))
    for i, m in enumerate(room.middle):
        assert m.tilt_deg == pytest.approx(room.chord_deg[i + 1] - room.chord_deg[i])
        assert m.tilt_deg > 0
    # A chord of a circle is parallel to the tangent half way between its ends in angle.
    for i, chord in enumerate(room.chord_deg):
        assert chord == pytest.approx((room.plane_deg[i] + room.plane_deg[i + 1]) / 2, abs=1e-6)


@given(st.lists(st.floats(-0.6, 0.6), min_size=4, max_size=4))
def test_a_mirror_image_mirrors_planes_and_keeps_rooms(off: list[float]) -> None:
    y, z = on_circle(42.0)
    z = [a + b for a, b in zip(z, off, strict=True)]
    one, other = bow_room(y, z), bow_room(y, z[::-1])
    assert one.plane_deg == pytest.approx([-v for v in reversed(other.plane_deg)], abs=1e-5)
    assert [m.over_chord_mm for m in one.middle] == pytest.approx(
        [m.over_chord_mm for m in reversed(other.middle)]
    )


@given(st.floats(0.3, 3.0))
def test_scaling_lengths_keeps_angles(k: float) -> None:
    y, z = on_circle(42.0)
    one, other = bow_room(y, z), bow_room([v * k for v in y], [v * k for v in z])
    assert one.plane_deg == pytest.approx(other.plane_deg, abs=1e-6)
    assert other.middle[0].over_chord_mm == pytest.approx(one.middle[0].over_chord_mm * k)


def test_edge_room_by_vectors() -> None:
    # Distance of a point from a line, an independent way (cross product).
    found = edge_room(16.75, 42.0, 22.0, 55.0, 3.0)
    direction = (math.cos(math.radians(22.0)), -math.sin(math.radians(22.0)))
    to_edge = (55.0 - 16.75, 3.0 - 42.0)
    assert found.edge_clearance_mm == pytest.approx(direction[1] * to_edge[0] - direction[0] * to_edge[1])
    assert found.edge_angle_deg == pytest.approx(math.degrees(math.atan2(39.0, 38.25)) - 22.0)


@given(st.floats(5.0, 40.0), st.floats(40.0, 70.0), st.floats(0.1, 10.0))
def test_a_wider_waist_or_a_higher_edge_leaves_less(fall: float, half: float, more: float) -> None:
    base = edge_room(16.75, 45.0, fall, half, 3.0)
    assert edge_room(16.75, 45.0, fall, half + more, 3.0).edge_clearance_mm < base.edge_clearance_mm
    assert edge_room(16.75, 45.0, fall, half, 3.0 + more).edge_clearance_mm < base.edge_clearance_mm


def test_an_edge_that_cannot_be_is_refused() -> None:
    with pytest.raises(Refusal, match="waist_inside"):
        edge_room(16.75, 45.0, 20.0, 15.0, 3.0)
    with pytest.raises(Refusal, match="waist_above"):
        edge_room(16.75, 35.0, 20.0, 55.0, 36.0)
