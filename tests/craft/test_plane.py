"""Areas and lengths of flat things photographed at an angle, against a camera modelled independently."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from purfling.craft.plane import (
    crosses_itself,
    homography,
    map_points,
    polygon_area,
    to_plane,
    touched_area,
)
from purfling.craft.refusals import Refusal


def camera(tilt_deg, pan_deg, roll_deg, distance_mm=400.0, focal_px=3000.0, centre=(2000.0, 1500.0)):
    """A pin-hole camera over the plane z = 0: plane [mm] -> picture [px], by turning points in space."""
    t, p, r = np.radians([tilt_deg, pan_deg, roll_deg])
    rx = np.array([[1, 0, 0], [0, math.cos(t), -math.sin(t)], [0, math.sin(t), math.cos(t)]])
    ry = np.array([[math.cos(p), 0, math.sin(p)], [0, 1, 0], [-math.sin(p), 0, math.cos(p)]])
    rz = np.array([[math.cos(r), -math.sin(r), 0], [math.sin(r), math.cos(r), 0], [0, 0, 1]])
    turn = rz @ ry @ rx

    def seen(points):
        found = []
        for x, y in points:
            space = turn @ np.array([x, y, 0.0]) + np.array([0.0, 0.0, distance_mm])
            found.append(
                [centre[0] + focal_px * space[0] / space[2], centre[1] + focal_px * space[1] / space[2]]
            )
        return found

    return seen


SQUARE = [[-20, -20], [20, -20], [20, 20], [-20, 20]]
BLOT = [
    [30 + 9 * math.cos(a) * (1 + 0.2 * math.cos(3 * a)), 5 + 7 * math.sin(a)] for a in np.arange(0, 6.28, 0.1)
]


@pytest.mark.parametrize("tilt", [-40, -15, 0, 25, 45])
@pytest.mark.parametrize("pan", [-30, 0, 35])
@pytest.mark.parametrize("roll", [0, 70])
def test_a_printed_square_at_an_angle_gives_areas_within_two_per_cent(tilt, pan, roll):
    """Touched to 0.6 px; the blot lies beside the square, its area is known on the plane."""
    seen = camera(tilt, pan, roll)
    dice = np.random.default_rng(5)
    corners = np.array(seen(SQUARE)) + dice.normal(0, 0.6, (4, 2))
    outline = np.array(seen(BLOT)) + dice.normal(0, 0.6, (len(BLOT), 2))
    found = touched_area(outline.tolist(), to_plane(corners.tolist(), [40.0, 40.0]))
    assert found == pytest.approx(polygon_area(BLOT), rel=0.02)


def test_without_the_four_corners_the_angle_would_cost_a_third():
    """The counterpart: two points alone are right only for a camera held square."""
    square_on, tilted = camera(0, 0, 0), camera(45, 0, 0)
    for seen, wanted in ((square_on, 1.0), (tilted, math.cos(math.radians(45)))):
        scale = to_plane(seen([[-20, 0], [20, 0]]), [40.0])
        assert touched_area(seen(SQUARE), scale) / 1600.0 == pytest.approx(wanted, rel=0.02)


def test_areas_of_the_school_book():
    assert polygon_area([[0, 0], [4, 0], [0, 3]]) == 6.0
    circle = [[10 * math.cos(a), 10 * math.sin(a)] for a in np.linspace(0, 2 * math.pi, 200, endpoint=False)]
    assert polygon_area(circle) == pytest.approx(100 * math.pi, rel=1e-3)
    assert touched_area([[0, 0], [10, 0], [10, 10], [0, 10]], to_plane([[0, 0], [10, 0]], [5.0])) == 25.0


@given(
    st.floats(-40, 40), st.floats(-40, 40), st.floats(-180, 180),
    st.lists(st.tuples(st.floats(-60, 60), st.floats(-60, 60)), min_size=1, max_size=6),
)  # fmt: skip
def test_four_pairs_give_the_camera_s_own_map_everywhere(tilt, pan, roll, places):
    seen = camera(tilt, pan, roll)
    h = homography(SQUARE, seen(SQUARE))
    assert map_points(h, places) == pytest.approx(np.array(seen(places)), abs=1e-5)
    back = homography(seen(SQUARE), SQUARE)
    assert (h @ back / (h @ back)[2, 2]) == pytest.approx(np.eye(3), abs=1e-6)


def test_more_pairs_make_the_map_better_not_worse():
    seen, dice = camera(30, 10, 0), np.random.default_rng(1)
    grid = [[x, y] for x in range(-40, 41, 20) for y in range(-40, 41, 20)]
    errors = {}
    for n, plane in ((4, SQUARE), (25, grid)):
        found = []
        for _ in range(40):
            touched = np.array(seen(plane)) + dice.normal(0, 2.0, (n, 2))
            h = homography(plane, touched)
            found.append(np.abs(map_points(h, grid) - np.array(seen(grid))).mean())
        errors[n] = np.mean(found)
    assert errors[25] < 0.6 * errors[4]


@pytest.mark.parametrize(
    ("work", "code"),
    [
        (lambda: homography([[0, 0], [1, 0], [1, 1]], [[0, 0], [1, 0], [1, 1]]), "photo.points_pairs"),
        (lambda: homography([[0, 0], [1, 1], [2, 2], [3, 3]], SQUARE), "photo.not_in_line"),
        (lambda: homography([[1, 1]] * 4, SQUARE), "photo.not_in_line"),
        (lambda: to_plane([[0, 0], [5, 5], [9, 9]], [4.0]), "photo.points_scale"),
        (lambda: to_plane([[0, 0], [50, 5]], [0.0]), "photo.scale_mm"),
        (lambda: to_plane([[0, 0], [0, 0.5]], [10.0]), "photo.not_in_line"),
        (lambda: to_plane([[0, 0], [9, 9], [9, 0], [0, 9]], [4.0, 4.0]), "photo.crosses"),
        (lambda: touched_area([[0, 0], [1, 1]], np.eye(3)), "photo.points_area"),
        (lambda: touched_area([[0, 0], [9, 9], [9, 0], [0, 9]], np.eye(3)), "photo.crosses"),
    ],
)
def test_what_cannot_be_is_refused(work, code):
    with pytest.raises(Refusal) as refused:
        work()
    assert refused.value.code == code
    assert not crosses_itself(SQUARE)
