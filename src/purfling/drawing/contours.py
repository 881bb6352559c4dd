"""Contour lines of heights on a curved grid, by marching triangles."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from purfling.drawing.shapes import Point

Grid = NDArray[np.float64]


def finer(values: Grid, times: int) -> Grid:
    """The grid with ``times`` steps for each one, straight between the places in both directions."""
    n, m = values.shape
    rows = np.linspace(0, n - 1, (n - 1) * times + 1)
    cols = np.linspace(0, m - 1, (m - 1) * times + 1)
    i, j = np.minimum(rows.astype(int), n - 2), np.minimum(cols.astype(int), m - 2)
    a, b = (rows - i)[:, None], (cols - j)[None, :]
    corner = [values[np.ix_(i + p, j + q)] for p in (0, 1) for q in (0, 1)]
    low = corner[0] * (1 - b) + corner[1] * b
    high = corner[2] * (1 - b) + corner[3] * b
    return np.asarray(low * (1 - a) + high * a)


def contour(x: Grid, y: Grid, height: Grid, level: float) -> list[tuple[Point, ...]]:
    """Lines where the height is ``level``; cells with a missing corner are left out.

    Parameters
    ----------
    x, y, height : (n, m) places on paper and heights; each cell is cut into two triangles.
    """
    segments: list[tuple[Point, Point]] = []
    n, m = height.shape
    low, high = np.minimum.reduce(_corners(height)), np.maximum.reduce(_corners(height))
    for i, j in zip(*np.nonzero((low <= level) & (high > level)), strict=True):
        cell = [(i, j), (i + 1, j), (i + 1, j + 1), (i, j + 1)]
        for triangle in ((cell[0], cell[1], cell[2]), (cell[0], cell[2], cell[3])):
            cut = _cut([(float(x[p]), float(y[p]), float(height[p])) for p in triangle], level)
            if cut is not None and cut[0] != cut[1]:
                segments.append(cut)
    return chained(segments) if n > 1 and m > 1 else []


def _corners(height: Grid) -> list[Grid]:
    return [height[:-1, :-1], height[1:, :-1], height[1:, 1:], height[:-1, 1:]]


def _cut(triangle: Sequence[tuple[float, float, float]], level: float) -> tuple[Point, Point] | None:
    points: list[Point] = []
    for a, b in ((0, 1), (1, 2), (2, 0)):
        # The lower corner first, so that both triangles of a side find the very same point.
        (xa, ya, za), (xb, yb, zb) = sorted((triangle[a], triangle[b]))
        if (za > level) != (zb > level):
            t = (level - za) / (zb - za)
            points.append((xa + (xb - xa) * t, ya + (yb - ya) * t))
    return (points[0], points[1]) if len(points) == 2 else None


def chained(segments: Sequence[tuple[Point, Point]]) -> list[tuple[Point, ...]]:
    """Segments joined where they share an end point."""

    def key(p: Point) -> tuple[int, int]:
        return round(p[0] * 1e6), round(p[1] * 1e6)

    at: dict[tuple[int, int], list[int]] = {}
    for k, (a, b) in enumerate(segments):
        at.setdefault(key(a), []).append(k)
        at.setdefault(key(b), []).append(k)
    used = [False] * len(segments)
    lines: list[tuple[Point, ...]] = []
    for start in range(len(segments)):
        if used[start]:
            continue
        used[start] = True
        line = list(segments[start])
        for _ in (0, 1):
            while True:
                nearby = [k for k in at[key(line[-1])] if not used[k]]
                if not nearby:
                    break
                k = nearby[0]
                used[k] = True
                a, b = segments[k]
                line.append(b if key(a) == key(line[-1]) else a)
            line.reverse()
        lines.append(tuple(line))
    return lines
