"""Overlay of two pictures of the same thing: known maps, touched loosely, are found within a pixel."""

import numpy as np
import pytest

from purfling.craft.overlay import lay_over, refine, rest_of, sample
from purfling.craft.plane import homography, map_points

WIDTH, HEIGHT = 1200, 900
CORNERS = [[0.02, 0.02], [0.98, 0.02], [0.98, 0.98], [0.02, 0.98]]
PAGE = np.array([2400, 1800])


def scene(seed=3):
    """Soft detail of many sizes, as wood and varnish have it; values 0 to 255."""
    dice = np.random.default_rng(seed)
    found = np.zeros((HEIGHT, WIDTH))
    for cells in (7, 19, 47, 120):
        small = dice.random((cells, cells))
        y, x = np.mgrid[0:HEIGHT, 0:WIDTH]
        found += sample(small, x * (cells - 1.01) / WIDTH, y * (cells - 1.01) / HEIGHT)[0] / cells**0.4
    return (found - found.min()) / (found.max() - found.min()) * 255


def seen_through(picture, matrix, gain=1.0, offset=0.0, noise=0.0, seed=1):
    """The later picture whose share (u, v) shows what the earlier one has at inverse(matrix)(u, v)."""
    y, x = np.mgrid[0:HEIGHT, 0:WIDTH]
    shares = np.column_stack(((x.ravel() + 0.5) / WIDTH, (y.ravel() + 0.5) / HEIGHT))
    there = map_points(np.linalg.inv(matrix), shares)
    values, _ = sample(picture, there[:, 0] * WIDTH - 0.5, there[:, 1] * HEIGHT - 0.5)
    found = gain * values.reshape(HEIGHT, WIDTH) + offset
    return np.clip(found + np.random.default_rng(seed).normal(0, noise, found.shape), 0, 255)


MAPS = {
    "moved": homography(CORNERS, [[0.05, 0.0], [1.0, 0.03], [1.01, 0.97], [0.04, 0.95]]),
    "tilted": homography(CORNERS, [[0.08, 0.05], [0.93, 0.0], [0.99, 0.99], [0.02, 0.93]]),
    "turned": homography(CORNERS, [[0.10, -0.02], [1.03, 0.09], [0.93, 1.0], [0.0, 0.9]]),
}


@pytest.mark.parametrize("name", MAPS)
def test_loosely_touched_places_become_an_overlay_within_a_pixel(name):
    """Six places touched to about 8 px of the page copy; other light, grain, and a new mark."""
    earlier, true = scene(), MAPS[name]
    later = seen_through(earlier, true, gain=0.85, offset=12.0, noise=3.0)
    later[225:315, 525:645] = 20.0
    places = np.array([[0.15, 0.2], [0.8, 0.15], [0.85, 0.8], [0.2, 0.85], [0.5, 0.5], [0.6, 0.3]])
    dice = np.random.default_rng(11)
    touched = map_points(true, places) + dice.normal(0, 8.0, places.shape) / PAGE
    loose = homography(places, touched)
    found = lay_over(earlier, later, places.tolist(), touched.tolist())
    grid = np.array([[x, y] for x in np.linspace(0.12, 0.88, 9) for y in np.linspace(0.12, 0.88, 9)])
    error = np.hypot(*((map_points(found.matrix, grid) - map_points(true, grid)) * PAGE).T)
    before = np.hypot(*((map_points(loose, grid) - map_points(true, grid)) * PAGE).T)
    assert before.max() > 4.0  # touching alone would not have done
    assert error.max() < 1.0
    assert found.likeness > 0.8


def test_the_same_frame_needs_no_touching():
    earlier = scene()
    true = homography(CORNERS, [[0.03, 0.03], [0.99, 0.02], [0.98, 0.99], [0.02, 0.97]])
    found = lay_over(earlier, seen_through(earlier, true), [], [])
    error = np.abs((map_points(found.matrix, CORNERS) - map_points(true, CORNERS)) * PAGE)
    assert error.max() < 1.0


def test_two_different_things_are_not_alike():
    assert refine(scene(1), scene(2), np.eye(3)).likeness < 0.5


def test_what_is_left_between_the_touched_places_is_told():
    start = [[0.1, 0.1], [0.9, 0.1], [0.9, 0.9], [0.1, 0.9]]
    end = [[x + 0.01, y] for x, y in start]
    assert rest_of(np.eye(3), start, end, 1000, 500) == pytest.approx(10.0)
    assert rest_of(np.eye(3), [], [], 1000, 500) == 0.0
