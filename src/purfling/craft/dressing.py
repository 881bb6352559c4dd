"""Dressing a fingerboard: the least that must come off, where, and what blocks where it cannot be had."""

from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from purfling.craft.dressing_board import DressingWish, MeasuredBoard, check_board, radii, section
from purfling.craft.dressing_lp import SLACKS, TOUCH, Programme, Solved
from purfling.craft.dressing_prices import priced_rows, removal_error
from purfling.craft.dressing_search import Searched, search_radii
from purfling.craft.geometry import Array

BLOCKS = 1e-6  # mm; slacks that sum to more mean that a limit must give
OUTWARD = 1e-3  # mm; a limit that must give is named rounded outwards to this
MOST_GRANTS = 8


@dataclass(frozen=True)
class Binding:
    """A place where a limit holds the plan; ``line_mm`` None where the limit is no place across."""

    station_mm: float
    line_mm: float | None
    why: str


@dataclass(frozen=True)
class Block:
    """A limit that must give: its present value and the value it must take [mm]; ``bound`` min or max of a
    wish.
    """

    constraint: str
    bound: str
    needed_mm: float
    limit_mm: float


@dataclass(frozen=True)
class Plan:
    """The dressing, or (``blocked_by`` not empty) what stands in its way; every other field then shows the
    least bad.

    ``removal_mm`` (n, m), NaN where not measured; ``centre_mm``, ``tilt`` (n) at the board's own stations;
    ``scoop_mm``, ``off_nut_mm``, ``off_end_mm`` (k) per string; ``centre_off_mm`` the wood off on the
    centre line at nut and end; ``edge_left_mm`` (bass, treble); ``solves`` linear programmes; ``brink`` the
    share of boards shaken by the gauge error that could not have the wish.
    """

    objective_mm: float
    max_removal_mm: float
    mean_removal_mm: float
    removal_mm: Array
    removal_error_mm: float
    brink: float
    centre_mm: Array
    tilt: Array
    radius_nut_mm: float
    radius_end_mm: float
    binding: tuple[Binding, ...]
    edge_left_mm: tuple[float | None, float | None]
    edge_off_mm: tuple[float | None, float | None]
    scoop_mm: Array
    off_nut_mm: Array
    off_end_mm: Array
    centre_off_mm: tuple[float, float]
    blocked_by: tuple[Block, ...]
    solves: int
    programme: Programme
    solved: Solved

    @property
    def pair(self) -> tuple[float, float]:
        """Radii at nut and board's end [mm]."""
        return self.radius_nut_mm, self.radius_end_mm


def dress(
    board: MeasuredBoard, wish: DressingWish, gauge_error_mm: float = 0.0, loading: Array | None = None
) -> Plan:
    """The least weighted removal that gives the wished surface.

    Parameters
    ----------
    board, wish : lengths mm.
    gauge_error_mm : one standard deviation of a measured height [mm], each by itself.
    loading : (places, readings) where the heights are built from fewer readings (``removal_error``).

    Returns
    -------
    Plan; with ``blocked_by`` filled where no plan keeps every limit.

    Raises
    ------
    Refusal
        As ``check_board``.

    Equation: minimise w_max max(z - t) + w_mean mean(z - t), t(x_i, y) = a_i + b_i y - sag(y; R_i), R
    linear, under t <= z, edges, projection, scoops within their band times 4u(1-u), no hump under any
    string. Reference: docs/dressing.md.
    """
    check_board(board, wish)
    found = search_radii(board, wish)
    blocks = blocked_by(board, wish, found) if found.solved.blocked > BLOCKS else ()
    error = removal_error(found.programme, found.solved, found.pair, gauge_error_mm, loading)
    return _plan(board, wish, found, blocks, error)


def surface_of(plan: Plan, board: MeasuredBoard, x: Array, lateral_mm: Array) -> Array:
    """Height of the planned surface at stations ``x`` (p) and lateral places (p) or (p, q) [mm]."""
    p = plan.programme
    y = np.asarray(lateral_mm, dtype=np.float64)
    a, b = np.interp(x, p.x, plan.solved.centre_mm), np.interp(x, p.x, plan.solved.tilt)
    r = radii(board, x, *plan.pair)
    if y.ndim == 2:
        a, b, r = a[:, None], b[:, None], r[:, None]
    return np.asarray(a + b * y + section(r, y, board.flat_low_mm))


def _plan(
    board: MeasuredBoard,
    wish: DressingWish,
    found: Searched,
    blocks: tuple[Block, ...],
    error: tuple[float, float],
) -> Plan:
    p, solved, pair = found.programme, found.solved, found.pair
    own = np.searchsorted(p.x, board.station_mm)
    radius = radii(board, board.station_mm, *pair)[:, None]
    target = solved.centre_mm[own, None] + solved.tilt[own, None] * board.lateral_mm
    target = target + section(radius, board.lateral_mm, board.flat_low_mm)
    removal = np.maximum(board.height_mm - target, 0.0)
    removal[removal < TOUCH] = 0.0
    seen = removal[board.measured]
    most, mean = float(seen.max()), float(seen.mean())
    ends_off = _ends_off(board, p, solved, pair)
    off_nut, off_end = (np.interp(p.paths[row], *ends_off[row]) for row in (0, -1))
    centre_off = (
        p.zero_centre[0] - float(solved.centre_mm[0]),
        p.zero_centre[1] - float(solved.centre_mm[-1]),
    )
    edges_off = tuple(_edge_off(board, removal, side) for side in (0, -1))
    edges = (board.edge_bass_mm, board.edge_treble_mm)
    left = tuple(None if e is None or o is None else e - o for e, o in zip(edges, edges_off, strict=True))
    path = solved.centre_mm[:, None] + solved.tilt[:, None] * p.paths + p.path_section(pair)
    scoop = np.array([p.chord(path[:, k]).max() for k in range(path.shape[1])])
    return Plan(
        objective_mm=wish.weight_max * most + wish.weight_mean * mean,
        max_removal_mm=most,
        mean_removal_mm=mean,
        removal_mm=removal,
        removal_error_mm=error[0],
        brink=error[1],
        centre_mm=solved.centre_mm[own],
        tilt=solved.tilt[own],
        radius_nut_mm=pair[0],
        radius_end_mm=pair[1],
        binding=binding(p, pair),
        edge_left_mm=(left[0], left[1]),
        edge_off_mm=(edges_off[0], edges_off[1]),
        scoop_mm=np.where(np.abs(scoop) < TOUCH, 0.0, scoop),
        off_nut_mm=off_nut,
        off_end_mm=off_end,
        centre_off_mm=centre_off,
        blocked_by=blocks,
        solves=found.solves,
        programme=p,
        solved=solved,
    )


def _ends_off(
    board: MeasuredBoard, p: Programme, solved: Solved, pair: tuple[float, float]
) -> dict[int, tuple[Array, Array]]:
    """Lateral places and wood off at nut (0) and board's end (-1), measured or prolonged."""
    found: dict[int, tuple[Array, Array]] = {}
    for row, places in ((0, p.end_places(0)), (-1, p.end_places(1))):
        y, z = places
        radius = np.array(pair[0] if row == 0 else pair[1])
        t = solved.centre_mm[row] + solved.tilt[row] * y + section(radius, y, board.flat_low_mm)
        off = np.maximum(z - t, 0.0)
        off[off < TOUCH] = 0.0
        order = np.argsort(y)
        found[row] = (y[order], off[order]) if y.size else (np.zeros(1), np.zeros(1))
    return found


def _edge_off(board: MeasuredBoard, removal: Array, side: int) -> float | None:
    """Most wood off on the outermost line of a side."""
    lines = np.nonzero(board.measured.any(axis=0))[0]
    return float(np.nanmax(removal[:, lines[side]])) if lines.size else None


def binding(p: Programme, pair: tuple[float, float]) -> tuple[Binding, ...]:
    """Where the limits hold the plan: every row with a price, by station."""
    found: list[tuple[float, float, str, Binding]] = []
    for name, station, y in priced_rows(p, pair):
        line = None if y is None else round(float(y), 6)
        one = Binding(float(p.x[station]), line, name)
        found.append((one.station_mm, -1e9 if line is None else line, name, one))
    return tuple(row[3] for row in sorted(found, key=lambda r: r[:3]))


def blocked_by(board: MeasuredBoard, wish: DressingWish, found: Searched) -> tuple[Block, ...]:
    """Which limits must give, and the value each must take so that all together leave a plan.

    The slacks of the least bad plan, rounded outwards; then the wish so granted is searched again, and what
    it still lacks is added.
    """
    given = {name: slack for name, slack in found.solved.slack_mm.items() if slack > BLOCKS}
    granted = wish
    for _ in range(MOST_GRANTS):
        granted = grant(wish, given)
        again = search_radii(board, granted).solved
        if again.blocked <= BLOCKS:
            break
        for name, slack in again.slack_mm.items():
            if slack > BLOCKS:
                given[name] = given.get(name, 0.0) + slack + OUTWARD
    return tuple(_block(name, wish, granted) for name in SLACKS if name in given)


def _limits(wish: DressingWish) -> dict[str, float]:
    return {
        "edge_bass": wish.least_mm,
        "edge_treble": wish.least_mm,
        "projection": wish.projection_loss_max_mm,
        "scoop_low_min": wish.scoop_low_mm[0],
        "scoop_low_max": wish.scoop_low_mm[1],
        "scoop_high_min": wish.scoop_high_mm[0],
        "scoop_high_max": wish.scoop_high_mm[1],
    }


def _outward(name: str, limit: float, slack: float) -> float:
    """The limit moved by its slack, rounded outwards to OUTWARD (three decimals)."""
    if name in ("edge_bass", "edge_treble", "scoop_low_min", "scoop_high_min"):
        return float(np.floor((limit - slack) / OUTWARD - 1e-3) * OUTWARD)
    return float(np.ceil((limit + slack) / OUTWARD + 1e-3) * OUTWARD)


def grant(wish: DressingWish, given: dict[str, float]) -> DressingWish:
    """The wish with limits moved outwards by the slacks given [mm]."""
    new = {name: _outward(name, limit, given[name]) for name, limit in _limits(wish).items() if name in given}
    values: dict[str, Any] = {}
    edges = [new[name] for name in ("edge_bass", "edge_treble") if name in new]
    if edges:
        values["least_mm"] = min(edges)
    if "projection" in new:
        values["projection_loss_max_mm"] = new["projection"]
    for side in ("low", "high"):
        band = getattr(wish, f"scoop_{side}_mm")
        low, high = new.get(f"scoop_{side}_min", band[0]), new.get(f"scoop_{side}_max", band[1])
        values[f"scoop_{side}_mm"] = (max(low, 0.0), high)
    return replace(wish, **values)


def _block(name: str, wish: DressingWish, granted: DressingWish) -> Block:
    constraint = name.removesuffix("_min").removesuffix("_max")
    bound = "max" if name == "projection" or name.endswith("_max") else "min"
    return Block(constraint, bound, round(_limits(granted)[name], 3), _limits(wish)[name])
