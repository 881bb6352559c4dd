"""Flat things photographed at an angle: homographies, scales by touched points, areas of touched outlines."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from purfling.craft.refusals import Refusal

Array = NDArray[np.float64]
Points = Sequence[Sequence[float]] | Array


def as_points(points: Points) -> Array:
    """n x 2 numbers as an array."""
    return np.asarray(points, dtype=np.float64).reshape(-1, 2)


def _normal(points: Array) -> Array:
    """The similarity that brings points to their centre and to a mean distance of sqrt(2)."""
    centre = points.mean(axis=0)
    mean = float(np.sqrt(((points - centre) ** 2).sum(axis=1)).mean())
    if mean == 0.0:
        raise Refusal("photo.not_in_line")
    k = np.sqrt(2.0) / mean
    return np.array([[k, 0.0, -k * centre[0]], [0.0, k, -k * centre[1]], [0.0, 0.0, 1.0]])


def map_points(matrix: Array, points: Points) -> Array:
    """Points led through a homography.

    Parameters
    ----------
    matrix : 3 x 3.
    points : n x 2.

    Returns
    -------
    n x 2 array.
    """
    p = as_points(points)
    whole = np.column_stack((p, np.ones(len(p)))) @ np.asarray(matrix, dtype=np.float64).T
    return np.asarray(whole[:, :2] / whole[:, 2:3])


def homography(start: Points, end: Points) -> Array:
    """The projective map that leads ``start`` to ``end``, of least squares from four pairs on.

    Parameters
    ----------
    start, end : n x 2 each, n >= 4, no three of four in a line.

    Returns
    -------
    3 x 3 array, its last element 1.

    Raises
    ------
    Refusal
        Fewer than four pairs, or pairs in a line.

    Method: direct linear transform on normalised points, then Gauss-Newton on the distances at ``end``.
    Reference: Hartley and Zisserman, Multiple View Geometry, 2nd ed., algorithms 4.2 and 4.3 (from memory).
    """
    a, b = as_points(start), as_points(end)
    if len(a) < 4 or len(a) != len(b):
        raise Refusal("photo.points_pairs", n=min(len(a), len(b)))
    na, nb = _normal(a), _normal(b)
    p, q = map_points(na, a), map_points(nb, b)
    zero, one = np.zeros(len(p)), np.ones(len(p))
    x, y, u, v = p[:, 0], p[:, 1], q[:, 0], q[:, 1]
    rows = np.concatenate(
        (
            np.column_stack((x, y, one, zero, zero, zero, -u * x, -u * y, -u)),
            np.column_stack((zero, zero, zero, x, y, one, -v * x, -v * y, -v)),
        )
    )
    _, sizes, turned = np.linalg.svd(rows)
    if sizes[7] < 1e-6 * sizes[0]:
        raise Refusal("photo.not_in_line")
    h = turned[-1].reshape(3, 3)
    if abs(h[2, 2]) < 1e-9 or abs(np.linalg.det(h / np.linalg.norm(h))) < 1e-8:
        raise Refusal("photo.not_in_line")
    h = _closer(h / h[2, 2], p, q)
    whole = np.linalg.inv(nb) @ h @ na
    return np.asarray(whole / whole[2, 2])


def _closer(h: Array, p: Array, q: Array) -> Array:
    """Gauss-Newton on the distances; four pairs are met exactly already."""
    for _ in range(12):
        rest, slope = h_residual(h, p, q)
        step, *_ = np.linalg.lstsq(slope, -rest, rcond=None)
        h = h + np.append(step, 0.0).reshape(3, 3)
        if float(np.abs(step).max()) < 1e-13:
            break
    return np.asarray(h)


def h_residual(matrix: Array, start: Array, end: Array) -> tuple[Array, Array]:
    """Distances at the end as one column of 2n, and their slope by the first eight elements (2n x 8)."""
    x, y = start[:, 0], start[:, 1]
    d = matrix[2, 0] * x + matrix[2, 1] * y + matrix[2, 2]
    u = (matrix[0, 0] * x + matrix[0, 1] * y + matrix[0, 2]) / d
    v = (matrix[1, 0] * x + matrix[1, 1] * y + matrix[1, 2]) / d
    zero = np.zeros_like(x)
    slope = np.concatenate(
        (
            np.column_stack((x / d, y / d, 1 / d, zero, zero, zero, -u * x / d, -u * y / d)),
            np.column_stack((zero, zero, zero, x / d, y / d, 1 / d, -v * x / d, -v * y / d)),
        )
    )
    return np.concatenate((u - end[:, 0], v - end[:, 1])), slope


def to_plane(points: Points, size_mm: Sequence[float]) -> Array:
    """The map from a picture's pixels to millimetres of the plane that was touched.

    Parameters
    ----------
    points : two points and ``size_mm`` [their distance], for a camera held square to the plane;
        or the four corners of a rectangle, one after the other, and ``size_mm`` [width, height]: then the
        camera may have looked at it at an angle.
    size_mm : one or two lengths [mm].

    Returns
    -------
    3 x 3 array.

    Raises
    ------
    Refusal
        Another number of points; a length that is not positive; corners in a line or crossed.
    """
    p = as_points(points)
    if any(not 0.0 < value < 1e5 for value in size_mm):
        raise Refusal("photo.scale_mm", value=float(size_mm[0]))
    if len(p) == 2 and len(size_mm) == 1:
        distance = float(np.hypot(*(p[1] - p[0])))
        if distance < 2.0:
            raise Refusal("photo.not_in_line")
        k = size_mm[0] / distance
        return np.diag([k, k, 1.0])
    if len(p) == 4 and len(size_mm) == 2:
        w, h = size_mm
        if crosses_itself(p):
            raise Refusal("photo.crosses")
        return homography(p, [[0.0, 0.0], [w, 0.0], [w, h], [0.0, h]])
    raise Refusal("photo.points_scale")


def polygon_area(points: Points) -> float:
    """Area within a closed outline that does not cross itself, in the square of its unit.

    Equation: half the absolute sum of x_i y_{i+1} - x_{i+1} y_i.
    """
    p = as_points(points)
    q = np.roll(p, -1, axis=0)
    return float(abs((p[:, 0] * q[:, 1] - q[:, 0] * p[:, 1]).sum()) / 2.0)


def crosses_itself(points: Points) -> bool:
    """Whether two sides of a closed outline cross."""
    p = as_points(points)
    n = len(p)

    def turn(a: Array, b: Array, c: Array) -> float:
        return float((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]))

    for i in range(n):
        for j in range(i + 2, n):
            if i == 0 and j == n - 1:
                continue
            a, b, c, d = p[i], p[(i + 1) % n], p[j], p[(j + 1) % n]
            if turn(a, b, c) * turn(a, b, d) < 0 and turn(c, d, a) * turn(c, d, b) < 0:
                return True
    return False


def touched_area(points: Points, matrix: Array) -> float:
    """Area of an outline touched on a picture [mm2], by the map to the plane's millimetres.

    Parameters
    ----------
    points : n x 2 [px], 3 or more, one after the other.
    matrix : 3 x 3, of ``to_plane``.

    Validity: what was touched lies in the plane of the scale; an arching of 1 mm rise over 20 mm makes about
    0.3 per cent.
    """
    if not 3 <= len(points) <= 200:
        raise Refusal("photo.points_area")
    if crosses_itself(points):
        raise Refusal("photo.crosses")
    return polygon_area(map_points(matrix, points))
