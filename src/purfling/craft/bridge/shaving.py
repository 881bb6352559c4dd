"""Where a cut moves the edge of the wood: the place's points go in, corners slide along their neighbours."""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from purfling.craft.bridge.mesh import Mesh
from purfling.craft.bridge.places import crown_run, edge_normals, heart_of, legs_of, waist_of
from purfling.craft.bridge.rings import Points
from purfling.craft.refusals import Refusal

Place = Literal["waist", "ankles", "heart", "kidneys", "feet", "top"]
PLACES: tuple[Place, ...] = ("waist", "ankles", "heart", "kidneys", "feet", "top")
Array = NDArray[np.float64]


@dataclass(frozen=True)
class Cut:
    """Wood off at a ``place``: ``amount_mm`` deep off every edge there (both sides of the waist, both
    edges of each ankle, all round the heart, all round both kidneys, the upper sides of the feet and the
    crown straight down); ``name`` as the answer calls it."""

    place: Place
    amount_mm: float
    name: str


def _smooth(t: Array) -> Array:
    t = np.clip(t, 0.0, 1.0)
    return np.asarray(t * t * (3 - 2 * t))


def _point_normals(ring: Points) -> Points:
    """Mitred normals: a point moved by one along them moves both its edges by one (at most twice as far)."""
    after = edge_normals(ring)
    before = np.roll(after, 1, axis=0)
    scale = np.maximum(1 + np.sum(after * before, axis=1), 0.5)
    return np.asarray((after + before) / scale[:, None])


def _nearest(ring: Points, x: float, y: float) -> int:
    return int(np.argmin((ring[:, 0] - x) ** 2 + (ring[:, 1] - y) ** 2))


def _run(keep: NDArray[np.bool_], seed: int) -> NDArray[np.int64]:
    """Positions from a seed both ways while ``keep`` holds."""
    n = len(keep)
    first = last = seed
    while keep[(last + 1) % n] and last - seed < n:
        last += 1
    while keep[(first - 1) % n] and seed - first < n:
        first -= 1
    return np.arange(first, last + 1) % n


def _upright_edge(ring: Points, seed: int, sign: float, reach: float) -> tuple[NDArray[np.int64], Array]:
    """The steep stretch of an edge about a seed, within ``reach`` [mm] of its height, with tapering
    weights."""
    normal = _point_normals(ring)
    unit = normal / np.hypot(*normal.T)[:, None]
    off = np.abs(ring[:, 1] - ring[seed, 1]) / reach
    keep = (sign * unit[:, 0] > 0.5) & (off < 1)
    run = _run(keep, seed)
    return run, _smooth((sign * unit[run, 0] - 0.5) / 0.35) * _smooth((1 - off[run]) / 0.5)


def _kidney(ring: Points, seed: int, sign: float) -> tuple[NDArray[np.int64], Array]:
    """The edge of a kidney from its lower to its upper tip, with weights that taper at the tips."""
    n = len(ring)
    ends = []
    for way in (1, -1):
        best = at = seed
        for _ in range(n):
            at += way
            if sign * ring[at % n, 0] > sign * ring[best % n, 0]:
                best = at
            elif sign * (ring[best % n, 0] - ring[at % n, 0]) > 0.3:
                break
        ends.append(best)
    run = np.arange(min(ends), max(ends) + 1)
    step = np.hypot(*(ring[run[1:] % n] - ring[run[:-1] % n]).T)
    walk = np.concatenate([[0.0], np.cumsum(step)]) / max(float(step.sum()), 1e-9)
    return run % n, _smooth(np.minimum(walk, 1 - walk) / 0.25)


def moved_edge(mesh: Mesh, cut: Cut) -> Points | None:
    """How far each point of the mesh's rings moves [mm], shape (points, 2); None where the place is not
    there.

    Raises
    ------
    Refusal
        A cut deeper than the wood there.
    """
    shift = np.zeros_like(mesh.points)
    found = {
        "waist": _waist,
        "ankles": _ankles,
        "heart": _heart,
        "kidneys": _kidneys,
        "feet": _feet,
        "top": _top,
    }[cut.place](mesh, cut, shift)
    return shift if found else None


def _waist(mesh: Mesh, cut: Cut, shift: Points) -> bool:
    waist = waist_of(mesh.rings)
    if waist is None:
        return False
    loop, ring = mesh.loops[0], mesh.points[mesh.loops[0]]
    _deep_check(cut, waist.treble_mm - waist.bass_mm)
    for x, sign in ((waist.bass_mm, -1.0), (waist.treble_mm, 1.0)):
        run, weight = _upright_edge(ring, _nearest(ring, x, waist.height_mm), sign, 0.15 * ring[:, 1].max())
        shift[loop[run]] = -cut.amount_mm * weight[:, None] * _point_normals(ring)[run]
    return True


def _kidneys(mesh: Mesh, cut: Cut, shift: Points) -> bool:
    waist = waist_of(mesh.rings)
    if waist is None:
        return False
    loop, ring = mesh.loops[0], mesh.points[mesh.loops[0]]
    _deep_check(cut, waist.treble_mm - waist.bass_mm)
    for x, sign in ((waist.bass_mm, -1.0), (waist.treble_mm, 1.0)):
        run, weight = _kidney(ring, _nearest(ring, x, waist.height_mm), sign)
        shift[loop[run]] = -cut.amount_mm * weight[:, None] * _point_normals(ring)[run]
    return True


def _ankles(mesh: Mesh, cut: Cut, shift: Points) -> bool:
    legs = legs_of(mesh.rings)
    if legs is None:
        return False
    loop, ring = mesh.loops[0], mesh.points[mesh.loops[0]]
    for (y, inner, outer), side in zip(legs.ankles, (-1.0, 1.0), strict=True):
        _deep_check(cut, abs(outer - inner))
        for x, sign in ((outer, side), (inner, -side)):
            run, weight = _upright_edge(ring, _nearest(ring, x, y), sign, 0.6 * legs.arch_mm)
            shift[loop[run]] = -cut.amount_mm * weight[:, None] * _point_normals(ring)[run]
    return True


def _heart(mesh: Mesh, cut: Cut, shift: Points) -> bool:
    number = heart_of(mesh.rings)
    if number is None:
        return False
    loop = mesh.loops[number + 1]
    ring = mesh.points[loop]
    shift[loop] = -cut.amount_mm * _point_normals(ring)
    after = edge_normals(ring)
    for corner in np.flatnonzero(mesh.corners[loop]):
        for way, normal in ((1, after[corner]), (-1, after[corner - 1])):
            along = shift[loop[corner]] + cut.amount_mm * normal
            _follow(mesh, loop, int(corner), way, along, shift)
    return True


def _feet(mesh: Mesh, cut: Cut, shift: Points) -> bool:
    legs = legs_of(mesh.rings)
    if legs is None:
        return False
    loop, ring = mesh.loops[0], mesh.points[mesh.loops[0]]
    up = edge_normals(ring)[:, 1]
    before = np.roll(up, 1)
    low = min(a[0] for a in legs.ankles)
    facing = np.where(mesh.corners[loop], np.maximum(up, before), (up + before) / 2)
    weight = _smooth((facing - 0.4) / 0.4) * ((ring[:, 1] < low) & (ring[:, 1] > 0.1))
    if not weight.any():
        return False
    shift[loop, 1] = -cut.amount_mm * weight
    for corner in np.flatnonzero(mesh.corners[loop] & (weight > 0)):
        way = -1 if up[corner] > before[corner] else 1
        _slide(mesh, int(corner), way, cut, shift)
    if (ring[:, 1] + shift[loop, 1])[weight > 0].min() < 0.2:
        raise Refusal(
            "bridge.cut_too_deep",
            name=cut.name,
            value=cut.amount_mm,
            limit=round(float(ring[weight > 0.5, 1].min()), 1),
        )
    return True


def _top(mesh: Mesh, cut: Cut, shift: Points) -> bool:
    loop, ring = mesh.loops[0], mesh.points[mesh.loops[0]]
    run = crown_run(ring)
    up = edge_normals(ring)[:, 1]
    _deep_check(cut, 0.4 * float(ring[:, 1].max()))
    facing = np.minimum(up, np.roll(up, 1))
    ends = (run[0], run[-1])
    weight = np.ones(len(run))
    for place, end in ((0, ends[0]), (-1, ends[1])):
        if not mesh.corners[loop[end]]:
            half = np.arange(len(run)) < len(run) / 2
            side = half if place == 0 else ~half
            weight[side] = _smooth((facing[run[side]] - 0.74) / 0.2)
    shift[loop[run], 1] = -cut.amount_mm * weight
    for end, way in ((ends[0], -1), (ends[1], 1)):
        if mesh.corners[loop[end]]:
            _slide(mesh, int(end), way, cut, shift)
    return True


def _deep_check(cut: Cut, width: float) -> None:
    if cut.amount_mm > 0.4 * width:
        raise Refusal(
            "bridge.cut_too_deep", name=cut.name, value=cut.amount_mm, limit=round(float(0.4 * width), 1)
        )


def _slide(mesh: Mesh, corner: int, way: int, cut: Cut, shift: Points) -> None:
    """Let a corner of the outline slide along the neighbouring edge that is not cut, its points closing up.

    ``way`` is the direction (+1, -1) of that neighbour along the outline; the corner's own shift is set.
    """
    loop, ring = mesh.loops[0], mesh.points[mesh.loops[0]]
    n = len(ring)
    own = edge_normals(ring)[corner if way < 0 else (corner - 1) % n]
    depth = abs(float(shift[loop[corner]] @ own))
    chain = [corner]
    walk = [0.0]
    while len(chain) < n // 2:
        at = (chain[-1] + way) % n
        walk.append(walk[-1] + float(np.hypot(*(ring[at] - ring[chain[-1]]))))
        chain.append(at)
        if mesh.corners[loop[at]] or walk[-1] > 6 * cut.amount_mm + 3:
            break
    line = ring[chain]
    under = (line[0] - line) @ own
    if under.max() < 1.2 * depth:
        raise Refusal(
            "bridge.cut_too_deep",
            name=cut.name,
            value=cut.amount_mm,
            limit=round(float(under.max() / 1.2), 1),
        )
    k = int(np.argmax(under >= depth))
    part = 0.0 if k == 0 else (depth - under[k - 1]) / (under[k] - under[k - 1])
    start = walk[k - 1] + part * (walk[k] - walk[k - 1]) if k else 0.0
    length = walk[-1]
    new = start + np.array(walk) * (length - start) / length
    there = np.column_stack([np.interp(new, walk, line[:, j]) for j in (0, 1)])
    along = there[0] - ring[corner] - shift[loop[corner]]
    shift[loop[chain]] = there - line
    _follow(mesh, loop, corner, -way, along, shift)


def _follow(mesh: Mesh, loop: NDArray[np.int64], corner: int, way: int, along: Points, shift: Points) -> None:
    """Spread a corner's step along the cut edge over the next points of that edge."""
    ring = mesh.points[loop]
    n = len(ring)
    reach = max(6 * float(np.hypot(*along)), 1e-9)
    at, walked = corner, 0.0
    while True:
        following = (at + way) % n
        walked += float(np.hypot(*(ring[following] - ring[at])))
        if walked >= reach or mesh.corners[loop[following]]:
            return
        shift[loop[following]] += along * (1 - walked / reach)
        at = following
