"""Contours against surfaces whose level lines are known."""

import numpy as np
import pytest

from purfling.drawing.contours import chained, contour, finer


def test_a_plane_has_straight_contours() -> None:
    x, y = np.meshgrid(np.linspace(0, 10, 11), np.linspace(0, 4, 5), indexing="ij")
    (line,) = contour(x, y, x + 2 * y, 7.3)
    for px, py in line:
        assert px + 2 * py == pytest.approx(7.3)


def test_a_cone_has_round_contours() -> None:
    x, y = np.meshgrid(np.linspace(-5, 5, 81), np.linspace(-5, 5, 81), indexing="ij")
    (line,) = contour(x, y, np.hypot(x, y), 3.0)
    radii = [np.hypot(*p) for p in line]
    assert line[0] == pytest.approx(line[-1])  # closed
    assert radii == pytest.approx([3.0] * len(radii), abs=0.01)


def test_missing_places_leave_a_gap() -> None:
    x, y = np.meshgrid(np.arange(6.0), np.arange(6.0), indexing="ij")
    z = x.copy()
    z[2, 2] = np.nan
    lines = contour(x, y, z, 2.5)
    assert sum(len(line) - 1 for line in lines) == 2 * 3  # of five cells two touch the missing place


def test_finer_keeps_the_places_and_planes() -> None:
    values = np.add.outer(np.arange(4.0), 3 * np.arange(3.0))
    fine = finer(values, 5)
    assert fine[::5, ::5] == pytest.approx(values)
    assert fine == pytest.approx(np.add.outer(np.linspace(0, 3, 16), np.linspace(0, 6, 11)))


def test_chains_join_whatever_the_order() -> None:
    points = [(float(k), 0.0) for k in range(6)]
    parts = [(points[k], points[k + 1]) for k in (3, 0, 4, 2, 1)]
    (line,) = chained([(b, a) if k % 2 else (a, b) for k, (a, b) in enumerate(parts)])
    assert sorted(line) == points
