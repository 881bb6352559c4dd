"""A fingerboard as measured, what is wished of it, and the string paths over it.

Frame: ``x`` [mm] along the board from the nut's edge, ``y`` [mm] across (bass negative), heights [mm]
against the board line (the straight edge on the centre from nut end to board's end); lower is negative.
"""

from dataclasses import dataclass, field

import numpy as np

from purfling.craft.geometry import Array, surface
from purfling.craft.refusals import Refusal

BUMP_ACROSS = 2.5  # mm; a place that stands so far out of its own cross section is a slip of the pen
BUMP_ALONG = 4.0  # mm; a station so far over or under the middle one of all as well
FARTHEST_END = 0.2  # of the board's length: the nearest station to an end may not lie farther off
_NONE = np.zeros(0)


@dataclass(frozen=True)
class MeasuredBoard:
    """The surface as measured, or as built from lines.

    ``station_mm`` (n), ``lateral_mm`` (n, m) and ``height_mm`` (n, m; NaN not measured); pits (p) stand
    apart: they must be cleared and do not count in the mean. ``string_nut_mm`` and ``string_bridge_mm``
    (k): lateral places of the strings there, lowest first. ``flat_low_mm``: where a flat under the lowest
    string begins.
    """

    board_length_mm: float
    string_length_mm: float
    station_mm: Array
    lateral_mm: Array
    height_mm: Array
    string_nut_mm: Array
    string_bridge_mm: Array
    board_slope_deg: float
    flat_low_mm: float | None = None
    edge_bass_mm: float | None = None
    edge_treble_mm: float | None = None
    pit_station_mm: Array = field(default_factory=lambda: _NONE)
    pit_lateral_mm: Array = field(default_factory=lambda: _NONE)
    pit_height_mm: Array = field(default_factory=lambda: _NONE)

    def path_mm(self, x: Array) -> Array:
        """Lateral place of every string at the stations ``x``: (len(x), k) [mm]."""
        across = (self.string_bridge_mm - self.string_nut_mm) / self.string_length_mm
        return np.asarray(self.string_nut_mm + np.multiply.outer(x, across))

    def share(self, x: Array) -> Array:
        """u = x / board length, 0 at the nut's edge, 1 at the board's end."""
        return np.asarray(x / self.board_length_mm)

    @property
    def measured(self) -> "np.ndarray[tuple[int, ...], np.dtype[np.bool_]]":
        """Which places hold a reading (n, m)."""
        return np.isfinite(self.height_mm)


@dataclass(frozen=True)
class DressingWish:
    """What the board shall become and how much that may cost; bands are (least, most) [mm]."""

    scoop_low_mm: tuple[float, float]
    scoop_high_mm: tuple[float, float]
    radius_nut_mm: tuple[float, float]
    radius_end_mm: tuple[float, float]
    projection_loss_max_mm: float
    least_mm: float
    leave_mm: float = 0.0
    weight_max: float = 0.7
    weight_mean: float = 0.3


def section(radius_mm: Array, lateral_mm: Array, flat_low_mm: float | None) -> Array:
    """Height of the cross section against its crown (negative), exact arc, with a flat where there is one."""
    return surface(np.asarray(radius_mm), np.asarray(lateral_mm), flat_low_mm)


def radii(board: MeasuredBoard, x: Array, radius_nut_mm: float, radius_end_mm: float) -> Array:
    """Radius at the stations, linear from the nut's edge to the board's end [mm]."""
    return np.asarray(radius_nut_mm + (radius_end_mm - radius_nut_mm) * board.share(x))


def _refuse_order(name: str, values: Array) -> None:
    wrong = np.nonzero(np.diff(values) <= 0)[0]
    if wrong.size:
        i = int(wrong[0])
        raise Refusal(
            "dressing.out_of_order",
            field=name,
            value=float(values[i + 1]),
            before=float(values[i]),
            place=i + 2,
        )


def check_board(board: MeasuredBoard, wish: DressingWish) -> None:
    """Refuse a board that is nonsense.

    Raises
    ------
    Refusal
        Stations or lines out of order, outside the board, too few, too far from the ends; one line only;
        places outside the narrowest radius wished; the board as long as the string; a bump of some
        millimetres.
    """
    if board.board_length_mm >= board.string_length_mm:
        raise Refusal("setup.board_too_long", value=board.board_length_mm, limit=board.string_length_mm)
    n, m = board.height_mm.shape
    if m < 2:
        raise Refusal("dressing.one_line")
    if n < 3:
        raise Refusal("dressing.few_stations", value=n)
    _refuse_order("station_mm", board.station_mm)
    for row in (0, -1):
        _refuse_order("line_mm", board.lateral_mm[row])
    ends = (float(board.station_mm[0]), float(board.station_mm[-1]))
    if ends[0] < 0 or ends[1] > board.board_length_mm + 1e-9:
        value = ends[0] if ends[0] < 0 else ends[1]
        raise Refusal("dressing.off_the_board", value=value, limit=board.board_length_mm)
    counts = board.measured.sum()
    if counts < 6 or (board.measured.any(axis=0)).sum() < 2:
        raise Refusal("dressing.few_places", value=int(counts))
    seen = board.station_mm[board.measured.any(axis=1)]
    for name, off in (("nut", seen[0]), ("end", board.board_length_mm - seen[-1])):
        if off > FARTHEST_END * board.board_length_mm:
            raise Refusal(
                f"dressing.far_from_{name}", value=float(off), limit=FARTHEST_END * board.board_length_mm
            )
    _pits_on_board(board, wish)
    _inside_arcs(board, wish)
    _no_bump(board, wish)


def _pits_on_board(board: MeasuredBoard, wish: DressingWish) -> None:
    for x, y in zip(board.pit_station_mm, board.pit_lateral_mm, strict=True):
        if not 0 <= x <= board.board_length_mm:
            raise Refusal("dressing.off_the_board", value=float(x), limit=board.board_length_mm)
        narrow = float(radii(board, np.array([x]), wish.radius_nut_mm[0], wish.radius_end_mm[0])[0])
        if y >= narrow or (board.flat_low_mm is None and -y >= narrow):
            raise Refusal("dressing.outside_arc", value=abs(float(y)), limit=narrow)


def _inside_arcs(board: MeasuredBoard, wish: DressingWish) -> None:
    narrow = radii(board, board.station_mm, wish.radius_nut_mm[0], wish.radius_end_mm[0])
    wide = np.abs(board.lateral_mm).max(axis=1)
    if board.flat_low_mm is not None:
        if board.flat_low_mm >= narrow.min():
            raise Refusal("dressing.outside_arc", value=board.flat_low_mm, limit=float(narrow.min()))
        wide = np.maximum(board.lateral_mm.max(axis=1), 0.0)
    paths = np.abs(board.path_mm(board.station_mm)).max(axis=1)
    for reach in (wide, paths):
        over = np.nonzero(reach >= narrow)[0]
        if over.size:
            i = int(over[0])
            raise Refusal("dressing.outside_arc", value=float(reach[i]), limit=float(narrow[i]))


def robust_section(board: MeasuredBoard, wish: DressingWish) -> Array:
    """How far each place lies over its own station's cross section [mm], (n, m), NaN where not measured.

    The section is a height, a tilt and a share of the arc of the middle radius, fitted by least absolute
    distances (a groove or a bump does not draw it). Stations with fewer than five places are compared with
    their median.
    """
    x = board.station_mm
    mid = radii(board, x, sum(wish.radius_nut_mm) / 2, sum(wish.radius_end_mm) / 2)
    arc = section(mid[:, None], board.lateral_mm, board.flat_low_mm)
    over = np.full(board.height_mm.shape, np.nan)
    for i in range(len(x)):
        here = board.measured[i]
        count = int(here.sum())
        if count == 0:
            continue
        flat = board.height_mm[i, here] - arc[i, here]
        if count < 5:
            over[i, here] = flat - np.median(flat)
            continue
        y = board.lateral_mm[i, here]
        basis = np.column_stack(
            (np.ones(count), y / np.abs(y).max(), arc[i, here] / np.abs(arc[i, here]).max())
        )
        weight = np.ones(count)
        rest = flat
        for _ in range(25):
            root = np.sqrt(weight)
            found = np.linalg.lstsq(basis * root[:, None], flat * root, rcond=None)[0]
            rest = flat - basis @ found
            weight = 1.0 / np.maximum(np.abs(rest), 1e-4)
        over[i, here] = rest
    return over


def _no_bump(board: MeasuredBoard, wish: DressingWish) -> None:
    """Refuse a place that stands far out of its section, or a station far out of its neighbours."""
    over = robust_section(board, wish)
    mid = radii(board, board.station_mm, sum(wish.radius_nut_mm) / 2, sum(wish.radius_end_mm) / 2)
    flat = board.height_mm - section(mid[:, None], board.lateral_mm, board.flat_low_mm)
    level = np.array([np.median(r[np.isfinite(r)]) if np.isfinite(r).any() else np.nan for r in flat])
    along = level[:, None] - np.nanmedian(level) + np.where(board.measured, 0.0, np.nan)
    for deviation, limit in ((over, BUMP_ACROSS), (along, BUMP_ALONG)):
        worst = np.nanmax(np.abs(deviation))
        if worst > limit:
            i, j = np.unravel_index(int(np.nanargmax(np.abs(deviation))), deviation.shape)
            raise Refusal(
                "dressing.bump",
                value=round(float(deviation[i, j]), 2),
                station=float(board.station_mm[i]),
                line=round(float(board.lateral_mm[i, j]), 2),
                limit=limit,
            )
