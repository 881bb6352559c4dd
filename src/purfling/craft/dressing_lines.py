"""The surface of a board built from what makers measure: straight edges along the strings, templates across.

A straight edge laid along a line touches the surface at both ends of the board; feelers give the gap below it
between. Templates give the radius across, which fixes the height of the outer lines' ends against the centre.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise

import numpy as np

from purfling.craft.dressing_board import section
from purfling.craft.geometry import Array
from purfling.craft.refusals import Refusal

NEAR = 1e-6  # mm; stations nearer than this are one
LONGEST_STEP = 1 / 14  # of the board's length; between stations farther apart the built grid has one more


@dataclass(frozen=True)
class StraightEdge:
    """Gaps [mm] under a straight edge along a line; ``lateral_mm`` is the line's place at nut and board's
    end.

    ``rocks_mm``: pressed down at the nut's end it stands off the board's end by so much (a hump).
    """

    name: str
    lateral_mm: tuple[float, float]
    station_mm: tuple[float, ...]
    gap_mm: tuple[float, ...]
    rocks_mm: float = 0.0


@dataclass(frozen=True)
class Template:
    """A radius template laid across; ``rocks_mm``: pressed on one side it stands off the other by so much."""

    station_mm: float
    radius_mm: float
    rocks_mm: float = 0.0


@dataclass(frozen=True)
class Groove:
    """The deepest place of a groove, below the straight edge of a line."""

    station_mm: float
    line: StraightEdge
    depth_mm: float


@dataclass(frozen=True)
class Built:
    """A surface built from lines: grid (n, m), grooves' places, and what it is worth.

    ``doubt_mm``: one standard deviation of a height at the outer lines, from feeler, template and
    interpolation. ``template_off_mm``: the greatest height at the outer lines by which a template disagrees
    with the lines.
    """

    station_mm: Array
    lateral_mm: Array
    height_mm: Array
    pit_station_mm: Array
    pit_lateral_mm: Array
    pit_height_mm: Array
    radius_nut_mm: float
    radius_end_mm: float
    doubt_mm: float
    template_off_mm: float


class _Line:
    """A straight edge with its own zero moved to the surface's two ends."""

    def __init__(self, edge: StraightEdge, length: float) -> None:
        self.edge, self.length = edge, length
        x, gap = list(edge.station_mm), list(edge.gap_mm)
        if x[0] > NEAR:
            x, gap = [0.0, *x], [0.0, *gap]
        if x[-1] < length - NEAR:
            x, gap = [*x, length], [*gap, edge.rocks_mm]
        self.x, self.zero = np.array(x), (gap[0], gap[-1])
        self.gap = np.array(gap) - self._chord(self.x, *self.zero)

    def _chord(self, x: Array, at_nut: float, at_end: float) -> Array:
        u = x / self.length
        return np.asarray(at_nut * (1 - u) + at_end * u)

    def place(self, x: Array) -> Array:
        return self._chord(x, *self.edge.lateral_mm)

    def below(self, x: Array) -> Array:
        """Depth below the straight line between the surface's ends: a cubic spline through the gaps."""
        if len(self.x) < 4:
            return np.asarray(np.interp(x, self.x, self.gap))
        return np.asarray(self._spline(x))

    @cached_property
    def _spline(self) -> Callable[[Array], Array]:
        from scipy.interpolate import CubicSpline

        spline: Callable[[Array], Array] = CubicSpline(self.x, self.gap)
        return spline

    def straight(self, x: Array) -> Array:
        """The same by straight lines: the difference says what interpolation is worth."""
        return np.asarray(np.interp(x, self.x, self.gap))

    def height(self, x: Array, ends: tuple[float, float], flat: float | None) -> Array:
        """Height against the board line when the board has these radii at nut and end."""
        tops = [
            float(section(np.array(r), np.array(y), flat))
            for r, y in zip(ends, self.edge.lateral_mm, strict=True)
        ]
        return self._chord(x, tops[0], tops[1]) - self.below(x)


def check_lines(lines: Sequence[StraightEdge], templates: Sequence[Template], length: float) -> None:
    """Refuse lines no surface can be built from.

    Raises
    ------
    Refusal
        One line only, the same line twice, no template, stations out of order or off the board, fewer than
        two.
    """
    if len(lines) < 2:
        raise Refusal("dressing.one_line")
    if not templates:
        raise Refusal("dressing.no_template")
    for line in lines:
        if len(line.station_mm) < 2:
            raise Refusal("dressing.few_gaps", line=line.name, value=len(line.station_mm))
        for place, (before, value) in enumerate(zip(line.station_mm, line.station_mm[1:], strict=False), 2):
            if value <= before:
                raise Refusal(
                    "dressing.out_of_order",
                    field=f"line {line.name}: station_mm",
                    value=value,
                    before=before,
                    place=place,
                )
    stations = [s for line in lines for s in line.station_mm] + [t.station_mm for t in templates]
    for station in stations:
        if not 0 <= station <= length:
            raise Refusal("dressing.off_the_board", value=station, limit=length)
    places = sorted((line.lateral_mm[1], line.name) for line in lines)
    for (one, first), (other, second) in pairwise(places):
        if other - one < 0.5:
            raise Refusal("dressing.line_twice", first=first, second=second)


def effective_radius(template: Template, half_mm: float) -> float:
    """Radius of a section on which the template rocks: its sagitta at ``half_mm`` is greater by half."""
    if template.rocks_mm == 0:
        return template.radius_mm
    deep = template.radius_mm - float(np.sqrt(template.radius_mm**2 - half_mm**2)) + template.rocks_mm / 2
    return (half_mm**2 + deep**2) / (2 * deep)


def build_surface(
    lines: Sequence[StraightEdge],
    templates: Sequence[Template],
    grooves: Sequence[Groove],
    board_length_mm: float,
    half_width_mm: tuple[float, float],
    flat_low_mm: float | None,
    gap_error_mm: float,
    radius_error_mm: float,
) -> Built:
    """Grid of heights from straight edges and templates.

    Parameters
    ----------
    lines : two or more; ``grooves`` refer to them. ``half_width_mm`` at nut and end: the built lines reach
    so far. gap_error_mm, radius_error_mm : one standard deviation of feeler and template [mm].

    Returns
    -------
    Built

    Method: between the lines the parabola (three lines; more: straight pieces) through them over the arc;
    beyond the outer lines the arc goes on, its curvature smoothed along the board.
    """
    check_lines(lines, templates, board_length_mm)
    taken = sorted((_Line(line, board_length_mm) for line in lines), key=lambda t: t.edge.lateral_mm[1])
    ends, off = _end_radii(taken, templates, flat_low_mm)
    x = _stations(taken, board_length_mm)
    u = x / board_length_mm
    places = np.column_stack([t.place(x) for t in taken])
    radius = ends[0] + (ends[1] - ends[0]) * u
    heights = np.column_stack([t.height(x, ends, flat_low_mm) for t in taken])
    rest = heights - section(radius[:, None], places, flat_low_mm)
    half = half_width_mm[0] + (half_width_mm[1] - half_width_mm[0]) * u
    lateral = _built_lines(places, half)
    over = _between(lateral, places, rest, u)
    grid = section(radius[:, None], lateral, flat_low_mm) + over
    _, worst = _interpolation(taken, x)
    slope = _radius_slope(ends[1], float(np.abs(places[-1]).max()), flat_low_mm)
    doubt = float(np.sqrt(gap_error_mm**2 + (slope * radius_error_mm) ** 2 + worst**2))
    pits = [_pit(g, taken, ends, flat_low_mm) for g in grooves]
    pit = np.array(pits).reshape(len(pits), 3)
    return Built(x, lateral, grid, pit[:, 0], pit[:, 1], pit[:, 2], ends[0], ends[1], doubt, off)


def reading_effects(
    lines: Sequence[StraightEdge],
    templates: Sequence[Template],
    board_length_mm: float,
    half_width_mm: tuple[float, float],
    flat_low_mm: float | None,
    gap_error_mm: float,
    radius_error_mm: float,
) -> Array:
    """Effect of one standard deviation of every gap and every template on the built heights [mm].

    Returns (places, readings), places row by row; forward differences of ``build_surface``.
    """

    def heights(edges: Sequence[StraightEdge], across: Sequence[Template]) -> Array:
        args = (board_length_mm, half_width_mm, flat_low_mm, gap_error_mm, radius_error_mm)
        return build_surface(edges, across, [], *args).height_mm.ravel()

    base = heights(lines, templates)
    columns: list[Array] = []
    for i, line in enumerate(lines):
        for k in range(len(line.gap_mm)):
            gaps = tuple(g + gap_error_mm * (j == k) for j, g in enumerate(line.gap_mm))
            columns.append(
                heights([*lines[:i], replace(line, gap_mm=gaps), *lines[i + 1 :]], templates) - base
            )
    for i, template in enumerate(templates):
        moved = replace(template, radius_mm=template.radius_mm + radius_error_mm)
        columns.append(heights(lines, [*templates[:i], moved, *templates[i + 1 :]]) - base)
    return np.column_stack(columns)


def _pit(
    groove: Groove, taken: Sequence[_Line], ends: tuple[float, float], flat: float | None
) -> tuple[float, float, float]:
    line = next(t for t in taken if t.edge is groove.line)
    at = np.array([groove.station_mm])
    deeper = groove.depth_mm - float(line._chord(at, *line.zero)[0])
    height = float((line.height(at, ends, flat) + line.below(at))[0]) - deeper
    return groove.station_mm, float(line.place(at)[0]), height


def _stations(taken: Sequence[_Line], length: float) -> Array:
    """Every measured station, the ends, and one more in each long step."""
    x = np.unique(np.round(np.concatenate([t.x for t in taken]), 6))
    x = x[np.concatenate(([True], np.diff(x) > 0.5))]
    more = [x]
    for a, b in pairwise(x):
        count = int(np.ceil((b - a) / (LONGEST_STEP * length) - 1e-9))
        more.append(a + (b - a) * np.arange(1, count) / max(count, 1))
    return np.unique(np.concatenate(more))


def _built_lines(places: Array, half: Array) -> Array:
    """The measured lines, one between each two neighbours, and the board's edges where they lie farther
    out.
    """
    columns = [places[:, 0]]
    for k in range(1, places.shape[1]):
        columns += [(places[:, k - 1] + places[:, k]) / 2, places[:, k]]
    if np.all(half > -places[:, 0] + 0.5):
        columns.insert(0, -half)
    if np.all(half > places[:, -1] + 0.5):
        columns.append(half)
    return np.column_stack(columns)


def _between(lateral: Array, places: Array, rest: Array, u: Array) -> Array:
    """Height over the nominal arc at the built lines."""
    low, high = places[:, [0]], places[:, [-1]]
    tilt = (rest[:, [-1]] - rest[:, [0]]) / (high - low)
    chord = rest[:, [0]] + tilt * (lateral - low)
    count = places.shape[1]
    if count == 2:
        return np.asarray(chord)
    bend, smooth = _curvature(places, rest, u)
    inside = chord + bend[:, None] * (lateral - low) * (lateral - high)
    if count > 3:
        inside = np.array([np.interp(y, p, r) for y, p, r in zip(lateral, places, rest, strict=True)])
    outside = chord + smooth[:, None] * (lateral - low) * (lateral - high)
    return np.where((lateral >= low - NEAR) & (lateral <= high + NEAR), inside, outside)


def _curvature(places: Array, rest: Array, u: Array) -> tuple[Array, Array]:
    """Coefficient q of q (y - low)(y - high) over the chord, per station, and its sagitta smoothed to
    4u(1-u)(c + d u)."""
    low, high = places[:, [0]], places[:, [-1]]
    tilt = (rest[:, [-1]] - rest[:, [0]]) / (high - low)
    inner = rest[:, 1:-1] - rest[:, [0]] - tilt * (places[:, 1:-1] - low)
    shape = (places[:, 1:-1] - low) * (places[:, 1:-1] - high)
    bend = (inner * shape).sum(axis=1) / (shape**2).sum(axis=1)
    sagitta = bend * shape.min(axis=1)
    basis = np.column_stack((4 * u * (1 - u), 4 * u * u * (1 - u)))
    smooth = basis @ np.linalg.lstsq(basis, sagitta, rcond=None)[0] / shape.min(axis=1)
    return bend, smooth


def _radius_slope(radius: float, lateral: float, flat: float | None) -> float:
    step = 1e-3 * radius
    two = [float(section(np.array(radius + k * step), np.array(-lateral), flat)) for k in (1, -1)]
    return abs(two[0] - two[1]) / (2 * step)


def _interpolation(taken: Sequence[_Line], x: Array) -> tuple[float, float]:
    """Root mean square, and a quarter of the greatest, difference of spline and straight pieces [mm]."""
    gaps = np.concatenate([t.below(x) - t.straight(x) for t in taken])
    return float(np.sqrt((gaps**2).mean())), float(np.abs(gaps).max()) / 4


def _end_radii(
    taken: Sequence[_Line], templates: Sequence[Template], flat: float | None
) -> tuple[tuple[float, float], float]:
    """Radii at nut and board's end with which the lines' sections fit the templates, and the worst misfit.

    A template between the ends sees the section as it is there, scoops included; with three lines or more the
    end radii are found so that the arc through outer and inner lines has the template's sagitta.
    """
    x = np.array([t.station_mm for t in templates])
    places = np.column_stack([t.place(x) for t in taken])
    half = (places[:, -1] - places[:, 0]) / 2
    read = np.array([effective_radius(t, float(h)) for t, h in zip(templates, half, strict=True)])
    if np.any(read <= np.abs(places).max(axis=1)):
        i = int(np.argmax(read <= np.abs(places).max(axis=1)))
        raise Refusal("dressing.outside_arc", value=float(np.abs(places[i]).max()), limit=float(read[i]))
    length = taken[0].length
    if len(templates) == 1:
        ends = np.array([read[0], read[0]])
    else:
        slope, start = np.polyfit(x, read, 1)
        ends = np.array([start, start + slope * length])
    if len(taken) < 3 or len(templates) < 2:
        return (float(ends[0]), float(ends[1])), 0.0
    wanted = _sagittas(section(read[:, None], places, flat), places)

    def off(at: Array) -> Array:
        heights = np.column_stack([t.height(x, (float(at[0]), float(at[1])), flat) for t in taken])
        return np.asarray(_sagittas(heights, places) - wanted)

    for _ in range(12):
        miss = off(ends)
        jacobian = np.column_stack([(off(ends + 1e-4 * np.eye(2)[k]) - miss) / 1e-4 for k in (0, 1)])
        step = np.linalg.lstsq(jacobian, -miss, rcond=1e-6)[0]
        ends = ends + np.clip(step, -0.2 * ends, 0.2 * ends)
        if np.abs(step).max() < 1e-9 * ends.max():
            break
    return (float(ends[0]), float(ends[1])), float(np.abs(off(ends)).max())


def _sagittas(heights: Array, places: Array) -> Array:
    """Mean height of the inner lines over the chord of the outer ones, per station."""
    low, high = places[:, [0]], places[:, [-1]]
    share = (places[:, 1:-1] - low) / (high - low)
    chord = heights[:, [0]] * (1 - share) + heights[:, [-1]] * share
    return np.asarray((heights[:, 1:-1] - chord).mean(axis=1))
