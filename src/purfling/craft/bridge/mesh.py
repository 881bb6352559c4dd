"""A graded triangulation of a bridge: fine along the edges, coarser inside, repeatable."""

from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import numpy as np
from numpy.typing import NDArray

from purfling.craft.bridge.rings import Points, Rings, inside_rings, signed_area
from purfling.craft.refusals import Refusal

CORNER_DEG = 15.0  # a turn of the outline by more than this is kept as a corner
GROWTH = 0.45  # of the element size per mm from the edge
SWEEPS = 6
LEAST_QUALITY = 0.15
MOST_FREEDOMS = 150_000
ATTEMPTS = 6


@dataclass(frozen=True, eq=False)
class Mesh:
    """Triangles over the wood.

    ``points`` (n, 2) [mm], ``triangles`` (m, 3) counter-clockwise; the first points are those of
    ``loops``: for each ring of the outline the indices of its points in order; ``corners`` (n,) marks
    kept corners.
    """

    points: Points
    triangles: NDArray[np.int64]
    loops: tuple[NDArray[np.int64], ...]
    corners: NDArray[np.bool_]

    @property
    def rings(self) -> Rings:
        """The rings as the mesh has them."""
        found = [self.points[loop] for loop in self.loops]
        return Rings(found[0], tuple(found[1:]))


def corner_marks(ring: Points) -> NDArray[np.bool_]:
    """Which points of a ring are corners, shape (n,)."""
    before, after = ring - np.roll(ring, 1, axis=0), np.roll(ring, -1, axis=0) - ring
    cross = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
    dot = np.sum(before * after, axis=1)
    return np.asarray(np.abs(np.degrees(np.arctan2(cross, dot))) > CORNER_DEG)


def resampled(ring: Points, spacing_mm: float) -> tuple[Points, NDArray[np.bool_]]:
    """A ring with points about every ``spacing_mm`` along it; corners are kept; with the corner marks."""
    marks = corner_marks(ring)
    keys = np.flatnonzero(marks)
    if len(keys) == 0:
        keys = np.array([0])
    turned = np.roll(ring, -keys[0], axis=0)
    stops = [int(k) for k in keys - keys[0]] + [len(ring)]
    closed = np.vstack([turned, turned[:1]])
    points: list[Points] = []
    flags: list[bool] = []
    for begin, end in pairwise(stops):
        piece = closed[begin : end + 1]
        walk = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(piece, axis=0).T))])
        least = 1 if len(keys) > 2 else 4
        n = max(least, round(walk[-1] / spacing_mm))
        at = np.linspace(0.0, walk[-1], n, endpoint=False)
        points.append(np.column_stack([np.interp(at, walk, piece[:, k]) for k in (0, 1)]))
        flags += [bool(marks.any())] + [False] * (n - 1)
    return np.vstack(points), np.array(flags)


def quality(points: Points, triangles: NDArray[np.int64]) -> NDArray[np.float64]:
    """4 sqrt(3) area / sum of squared sides of each triangle: 1 equilateral, 0 flat, negative turned over."""
    a, b, c = (points[triangles[:, k]] for k in range(3))
    area = 0.5 * ((b[:, 0] - a[:, 0]) * (c[:, 1] - a[:, 1]) - (b[:, 1] - a[:, 1]) * (c[:, 0] - a[:, 0]))
    sides = sum(np.sum((q - p) ** 2, axis=1) for p, q in ((a, b), (b, c), (c, a)))
    return np.asarray(4 * np.sqrt(3.0) * area / sides)


def _lattice(low: Points, high: Points, size: float) -> Points:
    rows = np.arange(low[1], high[1] + size, size * np.sqrt(3) / 2)
    columns = np.arange(low[0], high[0] + size, size)
    x, y = np.meshgrid(columns, rows)
    x[1::2] += size / 2
    return np.column_stack([x.ravel(), y.ravel()])


def _inner_points(rings: Rings, edge: Points, fine: float, coarse: float) -> Points:
    """Lattices of growing size, each in the band of distance from the edge that asks for it."""
    from scipy.spatial import cKDTree

    tree = cKDTree(edge)
    sizes = [fine]
    while sizes[-1] * 1.4 < coarse:
        sizes.append(sizes[-1] * 1.4)
    sizes.append(coarse) if coarse > fine * 1.05 else None
    low, high = edge.min(axis=0), edge.max(axis=0)
    kept = np.empty((0, 2))
    for k, size in enumerate(sizes):
        begin = 0.7 * fine if k == 0 else (sizes[k - 1] * size) ** 0.5 - fine
        begin = begin if k == 0 else 0.7 * fine + begin / GROWTH
        end = np.inf if k == len(sizes) - 1 else 0.7 * fine + ((size * sizes[k + 1]) ** 0.5 - fine) / GROWTH
        points = _lattice(low, high, size)
        distance = tree.query(points)[0]
        points = points[(distance >= begin) & (distance < end)]
        points = points[inside_rings(points, rings)]
        if len(kept) and len(points):
            points = points[cKDTree(kept).query(points)[0] > 0.6 * size]
        kept = np.vstack([kept, points])
    return kept


def _triangles(points: Points, rings: Rings) -> NDArray[np.int64]:
    from scipy.spatial import Delaunay

    found = np.asarray(Delaunay(points).simplices, dtype=np.int64)
    a, b, c = (points[found[:, k]] for k in range(3))
    twice = (b[:, 0] - a[:, 0]) * (c[:, 1] - a[:, 1]) - (b[:, 1] - a[:, 1]) * (c[:, 0] - a[:, 0])
    found = np.where((twice < 0)[:, None], found[:, [0, 2, 1]], found)
    solid = np.abs(twice) > 1e-9
    found = found[solid]
    return found[inside_rings(points[found].mean(axis=1), rings)]


def _smoothed(points: Points, triangles: NDArray[np.int64], fixed: int) -> Points:
    """Laplace sweeps of the inner points; a sweep that would turn a triangle over is not taken."""
    from scipy.sparse import coo_matrix, diags

    i = triangles[:, [0, 1, 2, 1, 2, 0]].ravel()
    j = triangles[:, [1, 2, 0, 0, 1, 2]].ravel()
    near = coo_matrix((np.ones(len(i)), (i, j)), shape=(len(points), len(points))).tocsr()
    near.data[:] = 1.0
    count = np.maximum(np.asarray(near.sum(axis=1)).ravel(), 1.0)
    mean: Any = diags(1 / count) @ near
    moved = points.copy()
    for _ in range(SWEEPS):
        trial = moved.copy()
        trial[fixed:] = 0.35 * moved[fixed:] + 0.65 * (mean @ moved)[fixed:]
        if quality(trial, triangles).min() < 0.5 * min(quality(moved, triangles).min(), 0.6):
            break
        moved = trial
    return moved


def _missing(loops: tuple[NDArray[np.int64], ...], triangles: NDArray[np.int64], n: int) -> list[int]:
    """First points of the ring edges that the triangles do not have, or have twice."""
    i = triangles[:, [0, 1, 2]].ravel()
    j = triangles[:, [1, 2, 0]].ravel()
    keys = np.sort(np.minimum(i, j) * n + np.maximum(i, j))
    found: list[int] = []
    for loop in loops:
        after = np.roll(loop, -1)
        wanted = np.minimum(loop, after) * n + np.maximum(loop, after)
        count = np.searchsorted(keys, wanted, "right") - np.searchsorted(keys, wanted, "left")
        found += [int(v) for v in loop[count != 1]]
    return found


def meshed(rings: Rings, boundary_mm: float = 0.4, inside_mm: float = 1.2) -> Mesh:
    """Triangulate the wood.

    Parameters
    ----------
    rings : Rings
    boundary_mm, inside_mm : float
        Length of the edges along the outline and deep inside [mm].

    Raises
    ------
    Refusal
        Places so narrow that no triangles of use fit between their edges; edges so short that the
        computation would take minutes.

    Notes
    -----
    Points along the rings, triangular lattices of growing size inside, Delaunay, Laplace sweeps, Delaunay
    again. Two edges nearer to each other than half the edge length get points put between until they are
    kept.
    """
    _check_size(rings, boundary_mm, inside_mm)
    edges = [resampled(ring, boundary_mm) for ring in rings.every]
    for _ in range(ATTEMPTS):
        loops = _numbered(edges)
        sampled = Rings(edges[0][0], tuple(ring for ring, _ in edges[1:]))
        points, triangles = _attempt(sampled, loops, boundary_mm, inside_mm)
        gaps = set(_missing(loops, triangles, len(points)))
        if not gaps and quality(points, triangles).min() > LEAST_QUALITY:
            marks = np.zeros(len(points), dtype=bool)
            marks[: sum(len(m) for _, m in edges)] = np.concatenate([m for _, m in edges])
            return _used(Mesh(points, triangles, loops, marks))
        if gaps:
            edges = [_halved(r, m, gaps, int(loop[0])) for (r, m), loop in zip(edges, loops, strict=True)]
        else:
            boundary_mm *= 0.7
            edges = [resampled(ring, boundary_mm) for ring in rings.every]
    raise Refusal("bridge.no_mesh", boundary=float(f"{boundary_mm:.2g}"))


def _check_size(rings: Rings, boundary_mm: float, inside_mm: float) -> None:
    expected = sum(float(np.hypot(*np.diff(r, axis=0).T).sum()) / boundary_mm * 6 for r in rings.every)
    expected += abs(signed_area(rings.outer)) / inside_mm**2 * 10
    if expected > MOST_FREEDOMS:
        raise Refusal(
            "bridge.mesh_too_fine",
            boundary=float(boundary_mm),
            inside=float(inside_mm),
            value=round(expected),
            limit=MOST_FREEDOMS,
        )


def _numbered(edges: list[tuple[Points, NDArray[np.bool_]]]) -> tuple[NDArray[np.int64], ...]:
    loops, begin = [], 0
    for ring, _ in edges:
        loops.append(np.arange(begin, begin + len(ring), dtype=np.int64))
        begin += len(ring)
    return tuple(loops)


def _attempt(
    sampled: Rings, loops: tuple[NDArray[np.int64], ...], boundary_mm: float, inside_mm: float
) -> tuple[Points, NDArray[np.int64]]:
    """One triangulation of the sampled rings; smoothed where it keeps their edges."""
    edge = np.vstack(sampled.every)
    points = np.vstack([edge, _inner_points(sampled, edge, boundary_mm, inside_mm)])
    triangles = _triangles(points, sampled)
    if not _missing(loops, triangles, len(points)):
        points = _smoothed(points, triangles, len(edge))
        again = _triangles(points, sampled)
        if not _missing(loops, again, len(points)):
            triangles = again
        points = _smoothed(points, triangles, len(edge))
    return points, triangles


def _halved(
    ring: Points, marks: NDArray[np.bool_], gaps: set[int], begin: int
) -> tuple[Points, NDArray[np.bool_]]:
    after = np.roll(ring, -1, axis=0)
    points: list[Points] = []
    flags: list[bool] = []
    for k in range(len(ring)):
        points.append(ring[k])
        flags.append(bool(marks[k]))
        if begin + k in gaps:
            points.append((ring[k] + after[k]) / 2)
            flags.append(False)
    return np.array(points), np.array(flags)


def _used(mesh: Mesh) -> Mesh:
    """The mesh without points that no triangle has."""
    used = np.zeros(len(mesh.points), dtype=bool)
    used[mesh.triangles.ravel()] = True
    if used.all():
        return mesh
    number = np.cumsum(used) - 1
    return Mesh(
        mesh.points[used],
        number[mesh.triangles],
        tuple(number[loop] for loop in mesh.loops),
        mesh.corners[used],
    )
