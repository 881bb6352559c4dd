"""In-plane modes of a bridge: one sparse eigenvalue solve, named by participation."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray

from purfling.craft.bridge.elements import Net, assembled, netted, sole_sides, sole_springs
from purfling.craft.bridge.mesh import Mesh
from purfling.craft.bridge.places import crown_run
from purfling.craft.bridge.rings import Points
from purfling.craft.bridge.thickness import Thickness
from purfling.craft.bridge.wood import Wood

Array = NDArray[np.float64]
Kind = Literal["rocking", "bouncing", "sway", "other"]

MODES = 8
MOST_MODES = 20
LEAST_SHARE = 0.1  # of the crown's giving way: below it a mode is neither rocking nor bouncing
SWAY_SHARE = 0.1  # of the mass moved along x: below it a mode is no sway


@dataclass(frozen=True)
class Feet:
    """How the feet stand: ``clamped``, or on springs of ``stiffness_n_per_mm3`` (N per mm of travel and
    mm2 of sole, alike upright and along)."""

    clamped: bool = True
    stiffness_n_per_mm3: float = 0.0


@dataclass(frozen=True, eq=False)
class Plate:
    """A bridge ready to vibrate: ``mesh``, ``net``, ``wood``, ``thickness``, ``feet``, matrices ``k``
    [N/mm] and ``m`` [t] of all freedoms, ``free`` the freedoms that move."""

    mesh: Mesh
    net: Net
    wood: Wood
    thickness: Thickness
    feet: Feet
    k: Any
    m: Any
    free: NDArray[np.int64]


@dataclass(frozen=True, eq=False)
class Modes:
    """The lowest modes: ``squares`` omega^2 [rad2/s2], ``shapes`` (freedoms, modes) of mass one, ``kinds``,
    ``shares`` (modes, 2) in the crown's giving way along x and y, ``masses`` (modes,) moved
    along x, and the factors ``solve`` of the shifted
    stiffness of the free freedoms."""

    squares: Array
    shapes: Array
    kinds: tuple[Kind, ...]
    shares: Array
    masses: Array
    solve: Callable[[Array], Array]

    @property
    def hz(self) -> Array:
        """Frequencies [Hz]."""
        return np.sqrt(np.maximum(self.squares, 0.0)) / (2 * math.pi)

    def participation(self, number: int) -> float:
        """What named a mode: its share along y (bouncing), along x (rocking), of the mass (sway), or the
        greater share at the crown."""
        kind, (x, y) = self.kinds[number], self.shares[number]
        named = {"rocking": x, "bouncing": y, "sway": self.masses[number], "other": max(x, y)}
        return float(named[kind])

    def number(self, kind: Kind) -> int | None:
        """Which mode is the rocking or the bouncing one."""
        return self.kinds.index(kind) if kind in self.kinds else None


def plate(
    mesh: Mesh,
    wood: Wood,
    thickness: Thickness,
    feet: Feet,
    points: Points | None = None,
    net: Net | None = None,
) -> Plate:
    """Assemble a bridge; ``points`` puts the mesh's points elsewhere (a cut), ``net`` spares its
    numbering."""
    net = netted(mesh) if net is None else net
    k, m = assembled(mesh.points if points is None else points, net, wood, thickness)
    every = np.arange(2 * net.count)
    if feet.clamped:
        sole = np.unique(sole_sides(mesh, net))
        free = np.setdiff1d(every, np.concatenate([sole, sole + net.count]))
    else:
        k = (k + sole_springs(mesh, net, thickness, feet.stiffness_n_per_mm3)).tocsc()
        free = every
    return Plate(mesh, net, wood, thickness, feet, k, m, free)


def lowest(k: Any, m: Any, count: int, held: bool) -> tuple[Array, Array, Callable[[Array], Array]]:
    """The ``count`` lowest eigenpairs of k v = omega^2 m v, repeatable, and the factored solve.

    Parameters
    ----------
    k, m : sparse (n, n)
        Stiffness [N/mm] and mass [t] of the free freedoms.
    held : bool
        Whether k is definite; if not, a small negative shift is taken.

    Returns
    -------
    squares (count,) [rad2/s2], vectors (n, count) of mass one, solve
    """
    from scipy.sparse.linalg import LinearOperator, eigsh, splu

    sigma = 0.0 if held else -((2 * math.pi * 200.0) ** 2)
    shifted = k if held else (k - sigma * m).tocsc()
    factors = splu(
        shifted, permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0.0, options={"SymmetricMode": True}
    )
    n = k.shape[0]
    operator = LinearOperator((n, n), matvec=factors.solve, dtype=float)
    start = np.cos(np.arange(n) * 0.7) + 1.5
    squares, vectors = eigsh(k, count, m, sigma=sigma, OPinv=operator, v0=start, which="LM", tol=1e-10)
    order = np.argsort(squares)
    vectors = vectors[:, order]
    big = np.argmax(np.abs(vectors), axis=0)
    vectors = vectors * np.sign(vectors[big, np.arange(count)])
    return squares[order], vectors, factors.solve


def participations(bridge: Plate, squares: Array, vectors: Array, solve: Callable[[Array], Array]) -> Array:
    """Share of each mode in the way the crown gives to a steady force along x and along y, shape (modes, 2).

    For a force f spread over the crown the bridge gives f' K^-1 f = sum over all modes of (f' v)^2 / omega^2;
    a mode's share is its term. All shares of all modes add up to one.
    """
    mesh = bridge.mesh
    crown = mesh.loops[0][crown_run(mesh.points[mesh.loops[0]])]
    found = np.empty((vectors.shape[1], 2))
    place = np.full(2 * bridge.net.count, -1)
    place[bridge.free] = np.arange(len(bridge.free))
    for axis in (0, 1):
        force = np.zeros(len(bridge.free))
        at = place[crown + axis * bridge.net.count]
        force[at[at >= 0]] = 1.0 / len(crown)
        give = float(force @ solve(force))
        found[:, axis] = (force @ vectors) ** 2 / np.maximum(np.abs(squares), 1e-9) / give
    return np.minimum(found, 1.0)


def moved_masses(bridge: Plate, vectors: Array) -> Array:
    """Share of the whole mass that each mode moves along x, shape (modes,): (r' M v)^2 / (r' M r)."""
    r = np.zeros(2 * bridge.net.count)
    r[: bridge.net.count] = 1.0
    pull = bridge.m @ r
    return np.asarray((pull[bridge.free] @ vectors) ** 2 / float(r @ pull))


def named(shares: Array, masses: Array) -> tuple[Kind, ...]:
    """Kinds of modes: the greatest share of the crown's giving way along x is rocking, along y bouncing.

    Parameters
    ----------
    shares : array (modes, 2)
        From ``participations``.
    masses : array (modes,)
        From ``moved_masses``: 0.1 and more makes another mode a sway.
    """
    kinds: list[Kind] = ["sway" if mass >= SWAY_SHARE else "other" for mass in masses]
    rocking, bouncing = int(np.argmax(shares[:, 0])), int(np.argmax(shares[:, 1]))
    if rocking == bouncing:
        number = np.arange(len(shares))
        if shares[rocking, 0] >= shares[rocking, 1]:
            bouncing = int(np.argmax(np.where(number == rocking, -1.0, shares[:, 1])))
        else:
            rocking = int(np.argmax(np.where(number == bouncing, -1.0, shares[:, 0])))
    if shares[rocking, 0] >= LEAST_SHARE:
        kinds[rocking] = "rocking"
    if shares[bouncing, 1] >= LEAST_SHARE:
        kinds[bouncing] = "bouncing"
    return tuple(kinds)


def vibrated(bridge: Plate, count: int = MODES) -> Modes:
    """The lowest in-plane modes of a bridge.

    Returns
    -------
    Modes
        At least ``count``; more when the bouncing mode is not among them.

    Notes
    -----
    Plane stress, no strings, small motion. The absolute frequencies are no prediction: real feet and real
    wood move them by up to a factor of 1.5.
    """
    k, m = bridge.k[bridge.free][:, bridge.free].tocsc(), bridge.m[bridge.free][:, bridge.free].tocsc()
    while True:
        squares, vectors, solve = lowest(k, m, count, bridge.feet.clamped)
        shares = participations(bridge, squares, vectors, solve)
        masses = moved_masses(bridge, vectors)
        kinds = named(shares, masses)
        if "bouncing" in kinds or count >= MOST_MODES:
            break
        count = MOST_MODES
    shapes = np.zeros((2 * bridge.net.count, count))
    shapes[bridge.free] = vectors
    return Modes(squares, shapes, kinds, shares, masses, solve)
