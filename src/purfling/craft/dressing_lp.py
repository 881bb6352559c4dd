"""The least removal at given radii as a linear programme.

Target surface ``t(x_i, y) = a_i + b_i y + section(R_i, y)``. Unknown: centre height ``a_i`` and tilt
``b_i`` at every station, the deepest removal M, one slack per limit (what a limit must give where it
blocks), and a first-order step of both radii that the outer search uses. The matrix does not depend on the
radii, only the right-hand side does, so it is put together once. Of each station only the places that some
radius lets bind go in; after each solve all places are looked at and any that was cut is added (the answer
is exact).
"""

from dataclasses import dataclass
from typing import Any

import numpy as np

from purfling.craft.dressing_board import DressingWish, MeasuredBoard, radii, section
from purfling.craft.dressing_places import centre_ends, hull, measured_end, places_of, unmeasured_ends
from purfling.craft.geometry import Array

SLACKS = (
    "edge_bass",
    "edge_treble",
    "projection",
    "scoop_low_min",
    "scoop_low_max",
    "scoop_high_min",
    "scoop_high_max",
)
SLACK_COST = 1.0e3  # per mm, against an objective of tenths: a limit gives way only where nothing else does
CUT = 1e-9  # mm; a place left out that is missed by more comes in
TOUCH = 1e-7  # mm; HiGHS' own feasibility tolerance


@dataclass(frozen=True)
class Solved:
    """One solution: heights and tilts at the programme's stations, M, slacks, the radii step, its
    objective.
    """

    centre_mm: Array
    tilt: Array
    deepest_mm: float
    slack_mm: dict[str, float]
    step_mm: tuple[float, float]
    value: float

    @property
    def blocked(self) -> float:
        """Sum of the slacks [mm]; above TOUCH the wish cannot be had at these radii."""
        return sum(self.slack_mm.values())


class Programme:
    """The linear programme of one board and wish; ``solve`` takes the radii."""

    def __init__(self, board: MeasuredBoard, wish: DressingWish) -> None:
        self.board, self.wish = board, wish
        self.counted, self.bound, self.x = places_of(board, wish)
        self.u = board.share(self.x)
        self.n = len(self.x)
        self.scale = float(np.abs(self.counted.y).max())
        self.zero_centre = centre_ends(board)
        self.paths = board.path_mm(self.x)
        self.stretch = board.string_length_mm / board.board_length_mm
        self.all_station = np.concatenate((self.counted.station, self.bound.station))
        self.all_y = np.concatenate((self.counted.y, self.bound.y))
        self.all_top = np.concatenate((self.counted.top, self.bound.top))
        self.groove = np.nonzero(self.counted.top > self.counted.z + 1e-12)[0]
        self.columns = 2 * self.n + 1 + len(SLACKS) + len(self.groove)
        self.edges = {side: self._edge_places(side) for side in ("bass", "treble")}
        self.costs = self._costs()
        self.solves = 0
        self._choose_places()
        self._build()

    # Columns: a (n), b times scale (n), M, slacks (7), one removal per groove left, the steps of both radii.
    @property
    def deepest_at(self) -> int:
        return 2 * self.n

    @property
    def slack_at(self) -> int:
        return 2 * self.n + 1

    @property
    def left_at(self) -> int:
        return 2 * self.n + 1 + len(SLACKS)

    def _choose_places(self) -> None:
        """Begin with the hulls at the middle of the wished radii."""
        self.low = np.zeros(len(self.all_y), dtype=bool)
        self.high = np.zeros(len(self.counted.y), dtype=bool)
        middle = (sum(self.wish.radius_nut_mm) / 2, sum(self.wish.radius_end_mm) / 2)
        s = self._section(self.all_station, self.all_y, middle)
        order = np.lexsort((self.all_y, self.all_station))
        self.low[order] = hull(self.all_station[order], self.all_y[order], (self.all_top - s)[order], True)
        rest = self.counted.z - s[: len(self.high)]
        order = np.lexsort((self.counted.y, self.counted.station))
        self.high[order] = hull(self.counted.station[order], self.counted.y[order], rest[order], False)

    def _section(self, station: Any, y: Array, pair: tuple[float, float]) -> Array:
        return section(radii(self.board, self.x[station], *pair), y, self.board.flat_low_mm)

    def _surface_rows(self, station: Any, y: Array, sign: float) -> list[tuple[Any, Any, Any]]:
        """Triplets (row, column, value) of ``sign * (a + b y)`` for each place."""
        rows = np.arange(len(y))
        return [
            (rows, station, np.full(len(y), sign)),
            (rows, self.n + station, sign * y / self.scale),
        ]

    def _build(self) -> None:
        """The matrix: blocks of rows, each with triplets and a name; right-hand sides come with the radii."""
        from scipy import sparse

        self.places: list[tuple[str, int, float | None]] = []  # of each row: why, station, lateral place
        triplets: list[tuple[Any, Any, Any]] = []
        self.count = 0

        def add(name: str, station: Any, y: Any, parts: list[tuple[Any, Any, Any]]) -> None:
            for rows, cols, values in parts:
                triplets.append((np.asarray(rows) + self.count, np.asarray(cols), np.asarray(values)))
            self.places += [(name, int(i), v) for i, v in zip(station, y, strict=True)]
            self.count += len(station)

        for name, station, y, sign, extra in self._place_blocks():
            add(name, station, y.tolist(), self._surface_rows(station, y, sign) + extra)
        add("projection", [self.n - 1], [None], self._projection_row())
        inner = range(1, self.n - 1)
        for k, name in ((0, "low"), (-1, "high")):
            for side in ("min", "max"):
                y = self.paths[1:-1, k].tolist()
                add(f"scoop_{name}_{side}", inner, y, self._scoop_rows(k, name, side))
        for k in range(self.paths.shape[1]):
            add("hump", inner, self.paths[1:-1, k].tolist(), self._hump_rows(k))
        rows, cols, values = (np.concatenate([t[i] for t in triplets]) for i in range(3))
        self.fixed = sparse.csc_array((values, (rows, cols)), shape=(self.count, self.columns))

    def _place_blocks(self) -> list[tuple[str, Any, Array, float, list[tuple[Any, Any, Any]]]]:
        c = self.counted
        found: list[tuple[str, Any, Array, float, list[tuple[Any, Any, Any]]]] = []
        low, high = np.nonzero(self.low)[0], np.nonzero(self.high)[0]
        found.append(("lowest", self.all_station[low], self.all_y[low], 1.0, []))
        rows = np.arange(len(high))
        deepest = (rows, np.full(len(high), self.deepest_at), np.full(len(high), -1.0))
        found.append(("deepest", c.station[high], c.y[high], -1.0, [deepest]))
        for which, side in ((0, "bass"), (1, "treble")):
            places = self.edges[side]
            rows = np.arange(len(places))
            give = (rows, np.full(len(places), self.slack_at + which), np.full(len(places), -1.0))
            found.append((f"edge_{side}", c.station[places], c.y[places], -1.0, [give]))
        rows = np.arange(len(self.groove))
        left = (rows, self.left_at + rows, np.full(len(rows), -1.0))
        found.append(("left", c.station[self.groove], c.y[self.groove], -1.0, [left]))
        return found

    def _edge_places(self, side: str) -> Any:
        """Indices of the counted places on the outermost line of a side, none where its edge is not given."""
        given = self.board.edge_bass_mm if side == "bass" else self.board.edge_treble_mm
        if given is None:
            return np.zeros(0, dtype=int)
        lines = np.nonzero(self.board.measured.any(axis=0))[0]
        column = lines[0] if side == "bass" else lines[-1]
        return np.nonzero(np.nonzero(self.board.measured)[1] == column)[0]

    def _projection_row(self) -> list[tuple[Any, Any, Any]]:
        cos = np.cos(np.radians(self.board.board_slope_deg))
        last = self.n - 1
        return [
            ([0, 0, 0], [last, 0, self.slack_at + 2], [-self.stretch / cos, (self.stretch - 1) / cos, -1.0]),
        ]

    def chord(self, values: Array) -> Array:
        """Straight line between the ends' values, at the inner stations."""
        u = self.u[1:-1]
        return np.asarray(values[0] * (1 - u) + values[-1] * u - values[1:-1])

    def _scoop_rows(self, k: int, name: str, side: str) -> list[tuple[Any, Any, Any]]:
        """min: -(chord - t) - slack shape <= ...; max: (chord - t) - slack shape <= ..."""
        sign = -1.0 if side == "min" else 1.0
        rows, inner = np.arange(self.n - 2), np.arange(1, self.n - 1)
        u, y = self.u[1:-1], self.paths[:, k] / self.scale
        slack = self.slack_at + SLACKS.index(f"scoop_{name}_{side}")
        return [
            (rows, np.zeros_like(rows), sign * (1 - u)),
            (rows, np.full_like(rows, self.n - 1), sign * u),
            (rows, inner, np.full(len(u), -sign)),
            (rows, np.full_like(rows, self.n), sign * (1 - u) * y[0]),
            (rows, np.full_like(rows, 2 * self.n - 1), sign * u * y[-1]),
            (rows, self.n + inner, -sign * y[1:-1]),
            (rows, np.full_like(rows, slack), -4 * u * (1 - u)),
        ]

    def _bend(self, values: Array) -> Array:
        """Bend at the inner stations, per string: negative is a hump; lengths as shares of the board."""
        du = np.diff(self.u)[:, None]
        rise = np.diff(values, axis=0) / du
        return np.asarray(np.diff(rise, axis=0) * np.minimum(du[1:], du[:-1]))

    def _hump_rows(self, k: int) -> list[tuple[Any, Any, Any]]:
        du = np.diff(self.u)
        left, right = du[:-1], du[1:]
        least = np.minimum(left, right)
        before, after = least / left, least / right
        rows, inner = np.arange(self.n - 2), np.arange(1, self.n - 1)
        y = self.paths[:, k] / self.scale
        parts: list[tuple[Any, Any, Any]] = []
        for shift, factor in ((-1, before), (0, -(before + after)), (1, after)):
            at = inner + shift
            parts.append((rows, at, -factor))
            parts.append((rows, self.n + at, -factor * y[at]))
        return parts

    def right_hand(self, pair: tuple[float, float]) -> Array:
        """Right-hand sides of all rows at the radii (nut, end)."""
        s_all = self._section(self.all_station, self.all_y, pair)
        s = s_all[: len(self.counted.y)]
        z, wish, board = self.counted.z, self.wish, self.board
        parts: list[Any] = [(self.all_top - s_all)[self.low], (s - z)[self.high]]
        for side, given in (("bass", board.edge_bass_mm), ("treble", board.edge_treble_mm)):
            places = self.edges[side]
            parts.append((given or 0.0) - wish.least_mm + (s - z)[places])
        parts.append((s - z)[self.groove])
        cos = np.cos(np.radians(board.board_slope_deg))
        start = (self.zero_centre[1] * self.stretch - self.zero_centre[0] * (self.stretch - 1)) / cos
        parts.append([wish.projection_loss_max_mm - start])
        shape = 4 * self.u[1:-1] * (1 - self.u[1:-1])
        path = self.path_section(pair)
        for k, band in ((0, wish.scoop_low_mm), (-1, wish.scoop_high_mm)):
            own = self.chord(path[:, k])
            parts += [own - band[0] * shape, band[1] * shape - own]
        parts.append(self._bend(path).ravel(order="F"))
        return np.concatenate(parts)

    def path_section(self, pair: tuple[float, float]) -> Array:
        radius = radii(self.board, self.x, *pair)[:, None]
        return section(radius, self.paths, self.board.flat_low_mm)

    def _costs(self) -> Array:
        """Cost of each column: weighted mean (constant left out), M, slacks, grooves left."""
        cost = np.zeros(self.columns)
        count = len(self.counted.y)
        share = self.wish.weight_mean / count
        plain = np.ones(count, dtype=bool)
        plain[self.groove] = False
        station, y = self.counted.station[plain], self.counted.y[plain]
        cost[: self.n] = -share * np.bincount(station, minlength=self.n)
        cost[self.n : 2 * self.n] = -share * np.bincount(station, y / self.scale, minlength=self.n)
        cost[self.deepest_at] = self.wish.weight_max
        cost[self.slack_at : self.left_at] = SLACK_COST
        cost[self.left_at :] = share
        return cost

    def constant(self, pair: tuple[float, float]) -> float:
        """What the objective holds beside the costs: the weighted mean of height less section."""
        count = len(self.counted.y)
        plain = np.ones(count, dtype=bool)
        plain[self.groove] = False
        s = self._section(self.counted.station, self.counted.y, pair)
        return float(self.wish.weight_mean * (self.counted.z - s)[plain].sum() / count)

    def _with_steps(self, pair: tuple[float, float], right: Array) -> tuple[Any, Array]:
        """The matrix with a column for each radius' step, and the cost of the steps (forward differences)."""
        from scipy import sparse

        here = self.constant(pair)
        columns: list[Array] = []
        cost: list[float] = []
        for which in (0, 1):
            size = 1e-5 * pair[which]
            ahead = (pair[0] + size * (which == 0), pair[1] + size * (which == 1))
            columns.append((right - self.right_hand(ahead)) / size)
            cost.append((self.constant(ahead) - here) / size)
        rows, fixed = np.arange(self.count, dtype=self.fixed.indices.dtype), self.fixed
        ends = fixed.indptr[-1] + self.count * np.array([1, 2], dtype=fixed.indptr.dtype)
        data = np.concatenate((fixed.data, *columns))
        indices = np.concatenate((fixed.indices, rows, rows))
        indptr = np.concatenate((fixed.indptr, ends))
        shape = (self.count, self.columns + 2)
        return sparse.csc_array((data, indices, indptr), shape=shape), np.array(cost)

    def solve(
        self, pair: tuple[float, float], box: tuple[float, float, float, float] = (0, 0, 0, 0)
    ) -> Solved:
        """Solve at the radii (nut, end); ``box`` (least and greatest step of each radius) makes it first
        order.

        Raises
        ------
        RuntimeError
            HiGHS ends otherwise than optimal: a mistake of the program, for the slacks keep it feasible.
        """
        if not any(box):
            return self._exact(pair)
        right = self.right_hand(pair)
        matrix, extra = self._with_steps(pair, right)
        cost = np.concatenate((self.costs, extra))
        low, high = self.bounds()
        low = np.concatenate((low, [box[0], box[2]]))
        high = np.concatenate((high, [box[1], box[3]]))
        found = self.highs(cost, matrix, right, low, high)
        return self._read(found, pair)

    def _exact(self, pair: tuple[float, float]) -> Solved:
        while True:
            low, high = self.bounds()
            found = self.highs(self.costs, self.fixed, self.right_hand(pair), low, high)
            if not self._missed(found, pair):
                return self._read(np.concatenate((found, [0.0, 0.0])), pair)
            self._build()

    def _missed(self, found: Array, pair: tuple[float, float]) -> bool:
        """Bring in every place that was left out and is not kept by the solution."""
        t = found[self.all_station] + found[self.n + self.all_station] * self.all_y / self.scale
        t = t + self._section(self.all_station, self.all_y, pair)
        low = ~self.low & (t > self.all_top + CUT)
        high = ~self.high & (self.counted.z - t[: len(self.high)] > found[self.deepest_at] + CUT)
        if not (low.any() or high.any()):
            return False
        self.low |= low
        self.high |= high
        return True

    def bounds(self) -> tuple[Array, Array]:
        low = np.full(self.columns, -np.inf)
        low[self.deepest_at :] = 0.0
        return low, np.full(self.columns, np.inf)

    def highs(self, cost: Array, matrix: Any, right: Array, low: Array, high: Array) -> Array:
        from scipy.optimize import Bounds, LinearConstraint, milp

        rows = LinearConstraint(matrix, np.full(len(right), -np.inf), right)
        self.solves += 1
        done = milp(cost, bounds=Bounds(low, high), constraints=rows)
        if done.x is None:
            raise RuntimeError(f"HiGHS ends with {done.status}: {done.message}")
        return np.asarray(done.x)

    def _read(self, found: Array, pair: tuple[float, float]) -> Solved:
        slack = {name: float(found[self.slack_at + k]) for k, name in enumerate(SLACKS)}
        value = float(self.costs @ found[: self.columns]) + self.constant(pair)
        return Solved(
            found[: self.n],
            found[self.n : 2 * self.n] / self.scale,
            float(found[self.deepest_at]),
            slack,
            (float(found[-2]), float(found[-1])),
            value,
        )

    def end_places(self, which: int) -> tuple[Array, Array]:
        """Lateral places and heights at the nut's end (0) or the board's end (1), measured or prolonged."""
        at = 0 if which == 0 else self.n - 1
        if measured_end(self.board, which):
            here = self.counted.station == at
            return self.counted.y[here], self.counted.z[here]
        ends, y, z = unmeasured_ends(self.board)
        return y[ends == which], z[ends == which]
