"""One photograph laid over another: a first map from touched places, made finer by the pictures."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from purfling.craft.plane import Points, homography, map_points

Array = NDArray[np.float64]
SIDES = (128, 256, 512)  # the longer side of the pictures at each step [px]
MOST_STEPS = 25


@dataclass(frozen=True)
class Laid:
    """How a later picture lies over an earlier one.

    ``matrix`` leads shares of width and height (0 to 1) of the earlier picture to those of the later one;
    ``likeness`` is the correlation of the two after that, 1 for the same picture.
    """

    matrix: Array
    likeness: float


def _shrunk(grey: Array, side: int) -> Array:
    """A picture made smaller by whole means of its pixels, never larger."""
    k = max(round(max(grey.shape) / side), 1)
    h, w = grey.shape[0] // k * k, grey.shape[1] // k * k
    small = grey[:h, :w].reshape(h // k, k, w // k, k).mean(axis=(1, 3))
    return np.asarray(small)


def _used(grey: Array, small: Array) -> tuple[float, float]:
    """Which share of the picture's width and height the smaller one covers (its last columns may be cut)."""
    k = max(round(grey.shape[0] / small.shape[0]), 1)
    return small.shape[1] * k / grey.shape[1], small.shape[0] * k / grey.shape[0]


def _soft(grey: Array) -> Array:
    """A little softened, so that slopes are those of things and not of grain."""
    padded = np.pad(grey, 2, mode="edge")
    weights = (1 / 16, 4 / 16, 6 / 16, 4 / 16, 1 / 16)
    h, w = grey.shape
    across = np.sum([k * padded[:, i : i + w] for i, k in enumerate(weights)], axis=0)
    return np.asarray(np.sum([k * across[i : i + h] for i, k in enumerate(weights)], axis=0))


def sample(grey: Array, x: Array, y: Array) -> tuple[Array, NDArray[np.bool_]]:
    """Values of a picture between its pixels (pixel centres at whole numbers), and which lie within it."""
    h, w = grey.shape
    within = (x >= 0) & (y >= 0) & (x <= w - 1.001) & (y <= h - 1.001)
    xs, ys = np.clip(x, 0, w - 1.001), np.clip(y, 0, h - 1.001)
    i, j = xs.astype(np.int64), ys.astype(np.int64)
    a, b = xs - i, ys - j
    top = grey[j, i] * (1 - a) + grey[j, i + 1] * a
    low = grey[j + 1, i] * (1 - a) + grey[j + 1, i + 1] * a
    return np.asarray(top * (1 - b) + low * b), within


def _finer(earlier: Array, later: Array, matrix: Array) -> tuple[Array, float]:
    """Gauss-Newton at one size: the map, gain and offset of light that make the two most alike.

    Places that differ much (a new mark, a reflection) count little: Tukey's weights on the residual.
    """
    h, w = earlier.shape
    gy, gx = (np.asarray(g) for g in np.gradient(later))
    jj, ii = np.mgrid[0:h, 0:w]
    x, y = ((ii + 0.5) / w).ravel(), ((jj + 0.5) / h).ravel()
    target = earlier.ravel()
    seen, within = target, np.ones_like(target, dtype=np.bool_)
    for _ in range(MOST_STEPS):
        d = matrix[2, 0] * x + matrix[2, 1] * y + matrix[2, 2]
        u = (matrix[0, 0] * x + matrix[0, 1] * y + matrix[0, 2]) / d
        v = (matrix[1, 0] * x + matrix[1, 1] * y + matrix[1, 2]) / d
        px, py = u * later.shape[1] - 0.5, v * later.shape[0] - 0.5
        seen, within = sample(later, px, py)
        if within.sum() < 400:
            return matrix, 0.0
        gain, offset = np.polyfit(seen[within], target[within], 1)
        rest = target - (gain * seen + offset)
        wide = 4.685 * 1.4826 * float(np.median(np.abs(rest[within]))) + 1e-9
        weight = np.where(within & (np.abs(rest) < wide), (1 - (rest / wide) ** 2) ** 2, 0.0)
        sx = gain * sample(gx, px, py)[0] * later.shape[1] / d
        sy = gain * sample(gy, px, py)[0] * later.shape[0] / d
        cross = -(sx * u + sy * v)
        slope = np.column_stack(
            (sx * x, sx * y, sx, sy * x, sy * y, sy, cross * x, cross * y, seen, np.ones_like(x))
        )
        weighted = slope * weight[:, None]
        normal = weighted.T @ slope
        normal[np.diag_indices(10)] *= 1.0 + 1e-6
        normal[np.diag_indices(10)] += 1e-9 * np.trace(normal) / 10
        step = np.linalg.solve(normal, weighted.T @ rest)
        matrix = matrix + np.append(step[:8], 0.0).reshape(3, 3)
        if float(np.abs(step[[2, 5]]).max()) * max(h, w) < 0.004:
            break
    return matrix, float(np.corrcoef(seen[within], target[within])[0, 1])


def refine(earlier: Array, later: Array, matrix: Array) -> Laid:
    """The map made finer from small pictures to larger ones.

    Parameters
    ----------
    earlier, later : grey values, rows x columns each; they may differ in size.
    matrix : 3 x 3, a first map from shares of the earlier to shares of the later picture, true to a few per
        cent of the width.

    Returns
    -------
    Laid; where the pictures share too little the first map comes back with likeness 0.

    Method: iterative image alignment (B. Lucas and T. Kanade, 1981) with a projective map, gain and offset of
    light, Tukey's weights; three sizes.
    """
    found, likeness = np.asarray(matrix, dtype=np.float64), 0.0
    for side in SIDES:
        a, b = _soft(_shrunk(earlier, side)), _soft(_shrunk(later, side))
        (ax, ay), (bx, by) = _used(earlier, a), _used(later, b)
        inner, outer = np.diag([ax, ay, 1.0]), np.diag([1 / bx, 1 / by, 1.0])
        local = outer @ found @ inner
        finer, likeness = _finer(a, b, local / local[2, 2])
        if not np.isfinite(finer).all() or likeness <= 0.0:
            return Laid(np.asarray(matrix, dtype=np.float64), 0.0)
        found = np.linalg.inv(outer) @ finer @ np.linalg.inv(inner)
        found = found / found[2, 2]
    return Laid(np.asarray(found), likeness)


def lay_over(earlier: Array, later: Array, start: Points, end: Points) -> Laid:
    """Lay a later picture over an earlier one.

    Parameters
    ----------
    earlier, later : grey values, rows x columns each.
    start, end : the same places touched on both, shares of width and height, four or more; none of them lets
        the pictures themselves be tried from the same frame.
    """
    first = homography(start, end) if len(start) else np.eye(3)
    return refine(earlier, later, first)


def rest_of(matrix: Array, start: Points, end: Points, width: int, height: int) -> float:
    """Root mean square distance left between touched places [px of a picture width x height]."""
    if not len(start):
        return 0.0
    away = (map_points(matrix, start) - np.asarray(end, dtype=np.float64)) * np.array([width, height])
    return float(np.sqrt((away**2).sum(axis=1).mean()))
