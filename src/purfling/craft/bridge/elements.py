"""Plane-stress elements: six-node triangles, orthotropic wood, thickness over the face; N, mm, tonne."""

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from purfling.craft.bridge.mesh import Mesh
from purfling.craft.bridge.rings import FOOT_TOLERANCE, Points
from purfling.craft.bridge.thickness import Thickness
from purfling.craft.bridge.wood import Wood, stiffness

Array = NDArray[np.float64]
Indices = NDArray[np.int64]


def _rule() -> tuple[Array, Array]:
    """Seven points of a triangle (barycentric) and weights, exact to degree five (Radon 1948)."""
    r = np.sqrt(15.0)
    a, b = (6 - r) / 21, (6 + r) / 21
    points = [[1 / 3] * 3]
    for t in (a, b):
        points += [[1 - 2 * t, t, t], [t, 1 - 2 * t, t], [t, t, 1 - 2 * t]]
    weights = [9 / 40] + [(155 - r) / 1200] * 3 + [(155 + r) / 1200] * 3
    return np.array(points), np.array(weights)


_POINTS, _WEIGHTS = _rule()
_L1, _L2, _L3 = _POINTS.T
_ZERO = np.zeros_like(_L1)
# values (points, 6) and derivatives by the three barycentric coordinates (points, 6, 3)
_VALUES = np.stack(
    [
        _L1 * (2 * _L1 - 1),
        _L2 * (2 * _L2 - 1),
        _L3 * (2 * _L3 - 1),
        4 * _L1 * _L2,
        4 * _L2 * _L3,
        4 * _L3 * _L1,
    ],
    axis=1,
)
_SLOPES = np.stack(
    [
        np.stack([4 * _L1 - 1, _ZERO, _ZERO, 4 * _L2, _ZERO, 4 * _L3], axis=1),
        np.stack([_ZERO, 4 * _L2 - 1, _ZERO, 4 * _L1, 4 * _L3, _ZERO], axis=1),
        np.stack([_ZERO, _ZERO, 4 * _L3 - 1, _ZERO, 4 * _L2, 4 * _L1], axis=1),
    ],
    axis=2,
)


@dataclass(frozen=True, eq=False)
class Net:
    """The six-node net over a mesh: ``nodes`` per triangle (m, 6), corners first, then the middles of the
    sides 12, 23, 31; ``count`` of nodes; ``sides`` (k, 2) the corner points of each middle, in order.

    ``slot`` (m, 6, 6) places element entries in a compressed sparse column matrix with ``columns`` and
    ``rows``.
    """

    nodes: Indices
    count: int
    sides: Indices
    slot: Indices
    columns: Indices
    rows: Indices


def netted(mesh: Mesh) -> Net:
    """Number the six-node net of a mesh."""
    tri = mesh.triangles
    n = len(mesh.points)
    ends = np.sort(tri[:, [[0, 1], [1, 2], [2, 0]]].reshape(-1, 2), axis=1)
    keys, back = np.unique(ends[:, 0] * n + ends[:, 1], return_inverse=True)
    sides = np.column_stack([keys // n, keys % n])
    nodes = np.hstack([tri, n + back.reshape(-1, 3)])
    count = n + len(sides)
    row = np.repeat(nodes[:, :, None], 6, axis=2)
    column = np.repeat(nodes[:, None, :], 6, axis=1)
    pairs, slot = np.unique((column * count + row).ravel(), return_inverse=True)
    columns = np.searchsorted(pairs // count, np.arange(count + 1))
    return Net(nodes, count, sides, slot.reshape(-1, 6, 6), columns, pairs % count)


def node_points(points: Points, net: Net) -> Points:
    """Places of all nodes [mm], shape (count, 2)."""
    return np.vstack([points, points[net.sides].mean(axis=1)])


def assembled(points: Points, net: Net, wood: Wood, thickness: Thickness) -> tuple[Any, Any]:
    """Stiffness [N/mm] and mass [t] matrices of all freedoms (x of every node, then y), sparse, columns
    first.

    Notes
    -----
    K = integral of h B' C B dA, M = integral of rho h N' N dA, seven points per triangle.
    """
    from scipy.sparse import bmat, csc_matrix

    a, b, c = (points[net.nodes[:, k]] for k in range(3))
    twice = (b[:, 0] - a[:, 0]) * (c[:, 1] - a[:, 1]) - (b[:, 1] - a[:, 1]) * (c[:, 0] - a[:, 0])
    turn = (
        np.stack(
            [
                np.stack([b[:, 1] - c[:, 1], c[:, 0] - b[:, 0]], 1),
                np.stack([c[:, 1] - a[:, 1], a[:, 0] - c[:, 0]], 1),
                np.stack([a[:, 1] - b[:, 1], b[:, 0] - a[:, 0]], 1),
            ],
            axis=1,
        )
        / twice[:, None, None]
    )
    place = np.einsum("qk,mkd->mqd", _POINTS, points[net.nodes[:, :3]])
    weight = thickness.at(place[..., 0], place[..., 1]) * _WEIGHTS * (twice / 2)[:, None]
    slopes = np.einsum("qik,mkd->mdqi", _SLOPES, turn)
    gx, gy = slopes[:, 0], slopes[:, 1]
    wx, wy = gx * weight[..., None], gy * weight[..., None]
    xx = np.swapaxes(wx, 1, 2) @ gx
    xy = np.swapaxes(wx, 1, 2) @ gy
    yy = np.swapaxes(wy, 1, 2) @ gy
    yx = np.swapaxes(xy, 1, 2)
    s = stiffness(wood)
    mass = np.einsum("mq,qi,qj->mij", weight, _VALUES, _VALUES, optimize=True) * (wood.density_kg_m3 * 1e-12)
    blocks = {
        "uu": s[0, 0] * xx + s[2, 2] * yy + s[0, 2] * (xy + yx),
        "uv": s[0, 1] * xy + s[2, 2] * yx + s[0, 2] * xx + s[1, 2] * yy,
        "vv": s[1, 1] * yy + s[2, 2] * xx + s[1, 2] * (xy + yx),
        "m": mass,
    }
    size = len(net.rows)
    flat = net.slot.ravel()
    shape = (net.count, net.count)
    made: dict[str, Any] = {
        key: csc_matrix((np.bincount(flat, block.ravel(), size), net.rows, net.columns), shape=shape)
        for key, block in blocks.items()
    }
    k = bmat([[made["uu"], made["uv"]], [made["uv"].T, made["vv"]]], format="csc")
    m = bmat([[made["m"], None], [None, made["m"]]], format="csc")
    return k, m


def sole_sides(mesh: Mesh, net: Net) -> Indices:
    """Sides of the outline that stand on the foot line as (corner, middle, corner) nodes, shape (k, 3)."""
    loop = mesh.loops[0]
    after = np.roll(loop, -1)
    low = (np.abs(mesh.points[loop, 1]) <= FOOT_TOLERANCE) & (np.abs(mesh.points[after, 1]) <= FOOT_TOLERANCE)
    n = len(mesh.points)
    keys = net.sides[:, 0] * n + net.sides[:, 1]
    wanted = np.minimum(loop, after)[low] * n + np.maximum(loop, after)[low]
    return np.column_stack([loop[low], n + np.searchsorted(keys, wanted), after[low]])


def sole_springs(mesh: Mesh, net: Net, thickness: Thickness, stiffness_n_per_mm3: float) -> Any:
    """Stiffness of springs under the feet, alike in x and y [N/mm], sparse, of all freedoms."""
    from scipy.sparse import block_diag, coo_matrix

    sides = sole_sides(mesh, net)
    p, q = mesh.points[sides[:, 0]], mesh.points[sides[:, 2]]
    length = np.hypot(*(q - p).T)
    t = (1 + np.polynomial.legendre.leggauss(3)[0]) / 2
    w = np.polynomial.legendre.leggauss(3)[1] / 2
    shape = np.stack([(1 - t) * (1 - 2 * t), 4 * t * (1 - t), t * (2 * t - 1)], axis=1)
    x = p[:, 0, None] + t * (q - p)[:, 0, None]
    h = thickness.at(x, np.zeros_like(x))
    part = np.einsum("kq,q,qi,qj->kij", h, w, shape, shape) * (length * stiffness_n_per_mm3)[:, None, None]
    row = np.repeat(sides[:, :, None], 3, axis=2).ravel()
    column = np.repeat(sides[:, None, :], 3, axis=1).ravel()
    one = coo_matrix((part.ravel(), (row, column)), shape=(net.count, net.count))
    return block_diag([one, one], format="csc")
