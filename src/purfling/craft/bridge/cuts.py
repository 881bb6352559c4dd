"""What each cut does: the bridge's modes after wood is taken off, from one solve, and by solving again."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray

from purfling.craft.bridge.mesh import LEAST_QUALITY, Mesh, meshed, quality
from purfling.craft.bridge.modes import Kind, Modes, Plate, plate, vibrated
from purfling.craft.bridge.rings import Points, Rings, first_crossing
from purfling.craft.bridge.section import Mass, changed, weighed
from purfling.craft.bridge.shaving import Cut, moved_edge
from purfling.craft.bridge.thickness import Thickness
from purfling.craft.refusals import Refusal

Array = NDArray[np.float64]
Method = Literal["sensitivity", "solved"]
TRUSTED = 2e-4  # greatest last step of omega^2, relative, that is left to the sensitivities
MOST_STEPS = 5


@dataclass(frozen=True)
class CutEffect:
    """What a cut does: ``rocking_percent`` and ``bouncing_percent`` change of the frequencies (None where the
    bridge has no such mode), ``mass_mg`` change of mass, ``after`` mass and balance once it is done with the
    parts ``above`` and ``below`` the waist, the ``method`` and its estimated ``error_percent``."""

    name: str
    place: str
    amount_mm: float
    rocking_percent: float | None
    bouncing_percent: float | None
    mass_mg: float
    after: Mass
    above: Mass | None
    below: Mass | None
    method: Method
    error_percent: float


class Morph:
    """Moves the inner points of a mesh smoothly after its edge (discrete harmonic extension, factored
    once)."""

    def __init__(self, mesh: Mesh) -> None:
        from scipy.sparse import coo_matrix
        from scipy.sparse.linalg import splu

        a, b, c = (mesh.points[mesh.triangles[:, k]] for k in range(3))
        n = len(mesh.points)
        rows, columns, values = [], [], []
        for p, q, r, i, j in ((a, b, c, 0, 1), (b, c, a, 1, 2), (c, a, b, 2, 0)):
            u, v = p - r, q - r
            weight = np.sum(u * v, axis=1) / np.maximum(np.abs(u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0]), 1e-12)
            rows += [mesh.triangles[:, i], mesh.triangles[:, j]]
            columns += [mesh.triangles[:, j], mesh.triangles[:, i]]
            values += [weight, weight]
        off = coo_matrix(
            (np.concatenate(values), (np.concatenate(rows), np.concatenate(columns))), (n, n)
        ).tocsc()
        edge = np.concatenate(mesh.loops)
        self._inner = np.setdiff1d(np.arange(n), edge)
        diagonal = np.asarray(off.sum(axis=1)).ravel()
        block = (-off)[self._inner][:, self._inner].tocsc()
        block.setdiag(diagonal[self._inner])
        self._factors = splu(block.tocsc()) if len(self._inner) else None
        self._off = off[self._inner].tocsr()

    def spread(self, shift: Points) -> Points:
        """The shift of all points from that of the rings' points [mm], shape (n, 2)."""
        moved = shift.copy()
        if self._factors is not None:
            moved[self._inner] = self._factors.solve(self._off @ shift)
        return moved


def reduced(
    bridge: Plate, modes: Modes, k: Any, m: Any, wanted: tuple[int, ...]
) -> tuple[Array, Array, Array]:
    """Modes of changed matrices from the one solve: Rayleigh-Ritz on the old modes and their corrections.

    Parameters
    ----------
    bridge, modes
        The bridge before and its modes.
    k, m : sparse
        Stiffness and mass matrices after [N/mm, t].
    wanted : tuple of int
        Numbers of the modes that are asked for.

    Returns
    -------
    squares [rad2/s2], overlap with the old modes, error (estimated, of omega^2, relative); each (wanted,)

    Notes
    -----
    r = (K' - omega^2 M') v for each old mode v; the first corrections are K0^-1 r (the eigenvector
    derivatives, by the factors of the one solve), the second ones the same of the Ritz pairs found so
    far. The error is taken as the last step of the Ritz values, which shrinks from step to step.
    """
    free = bridge.free
    kf, mf = k[free][:, free], m[free][:, free]
    v = modes.shapes[free]

    def step(vectors: Array, squares: Array) -> Array:
        rest = kf @ vectors - (mf @ vectors) * squares
        return np.asarray(modes.solve(np.ascontiguousarray(rest)))

    base = np.hstack([v, step(v, modes.squares)])
    squares, vectors, overlap = _ritz(kf, mf, base, v[:, wanted])
    error = np.full(len(wanted), np.inf)
    for _ in range(MOST_STEPS):
        base = np.hstack([base, step(vectors, squares)])
        before = squares
        squares, vectors, overlap = _ritz(kf, mf, base, v[:, wanted])
        error = np.abs(before - squares) / np.maximum(squares, 1e-9)
        if error.max(initial=0.0) <= TRUSTED:
            break
    return squares, overlap, error


def _ritz(k: Any, m: Any, base: Array, old: Array) -> tuple[Array, Array, Array]:
    """Ritz pairs on the columns of a base that are most like some old modes, and how like they are."""
    from scipy.linalg import eigh, qr

    flat = qr(base / np.sqrt(np.sum(base * base, axis=0)), mode="economic", pivoting=True)
    size = np.abs(np.diag(flat[1]))
    span = flat[0][:, size > 1e-9 * size[0]]
    small_k, small_m = span.T @ (k @ span), span.T @ (m @ span)
    squares, small = eigh((small_k + small_k.T) / 2, (small_m + small_m.T) / 2)
    vectors = span @ small
    match = np.abs(vectors.T @ (m @ old))
    chosen = np.argmax(match, axis=0)
    return squares[chosen], vectors[:, chosen], match[chosen, np.arange(old.shape[1])]


def _percent(after: float, before: float) -> float:
    return 100.0 * (float(np.sqrt(max(after, 0.0) / before)) - 1.0)


def solved_again(
    bridge: Plate, modes: Modes, points: Points, remesh: bool = False
) -> tuple[float | None, float | None]:
    """Changes [%] of rocking and bouncing by solving the cut bridge, on the moved ``points`` or on a new
    mesh."""
    mesh, count = bridge.mesh, len(modes.squares)
    if remesh:
        loops = [points[loop] for loop in mesh.loops]
        step = float(np.median(np.hypot(*np.diff(loops[0], axis=0).T)))
        mesh = meshed(Rings(loops[0], tuple(loops[1:])), step, 3 * step)
        fresh = vibrated(plate(mesh, bridge.wood, bridge.thickness, bridge.feet), count)
    else:
        fresh = vibrated(plate(mesh, bridge.wood, bridge.thickness, bridge.feet, points, bridge.net), count)
    kinds: tuple[Kind, Kind] = ("rocking", "bouncing")
    found: list[float | None] = []
    for kind in kinds:
        old, new = modes.number(kind), fresh.number(kind)
        found.append(None if old is None or new is None else _percent(fresh.squares[new], modes.squares[old]))
    return found[0], found[1]


Weights = tuple[Mass, Mass | None, Mass | None]
Progress = Callable[[str, int, int], None]
Heard = tuple[float | None, float | None, Method, float]


def weights(rings: Rings, thickness: Thickness, density_kg_m3: float, waist_mm: float | None) -> Weights:
    """Mass of the whole, and of the parts above and below the waist (None without one)."""
    whole = weighed(rings, thickness, density_kg_m3)
    if waist_mm is None:
        return whole, None, None
    above = weighed(rings, thickness, density_kg_m3, waist_mm, above=True)
    below = weighed(rings, thickness, density_kg_m3, waist_mm, above=False)
    return whole, above, below


def effects(
    bridge: Plate,
    modes: Modes,
    rings: Rings,
    cuts: tuple[Cut, ...],
    waist_mm: float | None = None,
    progress: Progress | None = None,
) -> tuple[list[CutEffect], list[Cut]]:
    """What each cut alone does to frequencies and mass.

    Parameters
    ----------
    bridge, modes
        The bridge as it stands and its modes.
    rings : Rings
        Its outline as drawn (the mesh samples it more coarsely).
    cuts : tuple of Cut
    waist_mm : float, optional
        Height that divides the mass [mm].
    progress : callable, optional
        Told (name, number, of how many) before each cut.

    Returns
    -------
    list of CutEffect, list of Cut
        The effects, and the cuts whose place this outline does not have.

    Raises
    ------
    Refusal
        A cut deeper than the wood there.

    Notes
    -----
    The mesh follows the cut edge, so no noise of a new mesh enters; the changed matrices are assembled
    exactly and the frequencies come from the one solve (``reduced``). Where that does not settle, or the
    mesh would be spoiled, the cut bridge is solved anew.
    """
    shifts = [moved_edge(bridge.mesh, cut) for cut in cuts]
    asked = [(cut, shift) for cut, shift in zip(cuts, shifts, strict=True) if shift is not None]
    absent = [cut for cut, shift in zip(cuts, shifts, strict=True) if shift is None]
    if not asked:
        return [], absent
    morph = Morph(bridge.mesh)
    density = bridge.wood.density_kg_m3
    drawn = weights(rings, bridge.thickness, density, waist_mm)
    before = weights(bridge.mesh.rings, bridge.thickness, density, waist_mm)
    found: list[CutEffect] = []
    for number, (cut, shift) in enumerate(asked, 1):
        if progress is not None:
            progress(cut.name, number, len(asked))
        points = bridge.mesh.points + morph.spread(shift)
        after = weights(_rings_at(bridge.mesh, cut, points), bridge.thickness, density, waist_mm)
        found.append(_effect(cut, _frequencies(bridge, modes, points), drawn, before, after))
    return found, absent


def _effect(cut: Cut, heard: Heard, drawn: Weights, before: Weights, after: Weights) -> CutEffect:
    """The effect from the frequencies' changes and the masses as drawn, as meshed, as meshed after the
    cut."""
    left = [
        None if d is None or b is None or a is None else changed(d, b, a)
        for d, b, a in zip(drawn[1:], before[1:], after[1:], strict=True)
    ]
    return CutEffect(
        name=cut.name,
        place=cut.place,
        amount_mm=cut.amount_mm,
        rocking_percent=heard[0],
        bouncing_percent=heard[1],
        mass_mg=1000.0 * (after[0].mass_g - before[0].mass_g),
        after=changed(drawn[0], before[0], after[0]),
        above=left[0],
        below=left[1],
        method=heard[2],
        error_percent=heard[3],
    )


def _rings_at(mesh: Mesh, cut: Cut, points: Points) -> Rings:
    loops = [points[loop] for loop in mesh.loops]
    rings = Rings(loops[0], tuple(loops[1:]))
    if first_crossing(rings) is not None:
        raise Refusal("bridge.cut_through", name=cut.name, value=cut.amount_mm)
    return rings


def _frequencies(bridge: Plate, modes: Modes, points: Points) -> Heard:
    """Changes [%] of rocking and bouncing with the mesh's points moved, how found, estimated error [%]."""
    chosen = [modes.number("rocking"), modes.number("bouncing")]
    named = tuple(c for c in chosen if c is not None)
    good = quality(points, bridge.mesh.triangles).min() > 0.5 * LEAST_QUALITY
    if good:
        cutted = plate(bridge.mesh, bridge.wood, bridge.thickness, bridge.feet, points, bridge.net)
        squares, overlap, errors = reduced(bridge, modes, cutted.k, cutted.m, named)
        if errors.max(initial=0.0) <= TRUSTED and overlap.min(initial=1.0) > 0.8:
            rocking, bouncing = [
                None if c is None else _percent(squares[named.index(c)], modes.squares[c]) for c in chosen
            ]
            return rocking, bouncing, "sensitivity", 50.0 * float(errors.max(initial=0.0))
    rocking, bouncing = solved_again(bridge, modes, points, remesh=not good)
    return rocking, bouncing, "solved", 0.0
