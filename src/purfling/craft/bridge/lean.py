"""Lean and bend: the bridge as a column of varying section bending across the grain under the strings."""

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from purfling.craft.bridge.places import crown_run, spans
from purfling.craft.bridge.rings import Rings
from purfling.craft.bridge.thickness import Thickness
from purfling.craft.refusals import Refusal

Array = NDArray[np.float64]
Face = Literal["back", "centre"]
Verdict = Literal["leave", "watch", "straighten", "replace"]

SLICES = 60


@dataclass(frozen=True)
class LeanLoad:
    """``angle_deg`` of lean (positive: top towards the board) of the measured ``face``, ``bend_mm`` hollow of
    the back over its height (the middle has gone towards the board), ``load_n`` on the top,
    ``creep`` the number phi of slow bending (deflection in the long run = 1 + phi times)."""

    angle_deg: float
    face: Face
    bend_mm: float
    load_n: float
    creep: float


@dataclass(frozen=True)
class LeanLimits:
    """``watch_deg`` and ``straighten_deg`` of the back face; ``watch_mm`` and ``replace_mm`` of bend;
    ``watch_mpa`` and ``replace_mpa`` of stress across the grain; ``least_reserve`` of the held column."""

    watch_deg: float
    straighten_deg: float
    watch_mm: float
    replace_mm: float
    watch_mpa: float
    replace_mpa: float
    least_reserve: float


@dataclass(frozen=True)
class Column:
    """Sections of a column between its stations: ``heights_mm`` (n + 1), ``areas_mm2``, ``inertias_mm4``,
    ``thicknesses_mm`` (n) at the middles of the slices."""

    heights_mm: Array
    areas_mm2: Array
    inertias_mm4: Array
    thicknesses_mm: Array


@dataclass(frozen=True)
class LeanAnswer:
    """``centre_deg`` lean of the centre line and ``back_deg`` of the back face; ``critical_held_n``,
    ``critical_free_n`` loads at which the column would give way; ``reserve_held``, ``reserve_free`` =
    critical / (load (1 + creep)); ``stress_free_mpa`` (None where the free column does not stand) and
    ``stress_held_mpa``; ``tip_mm`` further travel of the free top; ``verdict``."""

    centre_deg: float
    back_deg: float
    critical_held_n: float
    critical_free_n: float
    reserve_held: float
    reserve_free: float
    stress_free_mpa: float | None
    stress_held_mpa: float | None
    tip_mm: float | None
    verdict: Verdict


def column_of(rings: Rings, thickness: Thickness, slices: int = SLICES) -> Column:
    """The bridge sliced from the foot line to the crown: area, moment of inertia and greatest thickness.

    A slice's inertia is the integral of h^3 / 12 over the wood at its middle height. The strings press
    along the crown: above its lower end the width is taken as it is there, with the thickness of the
    slice's own height.
    """
    heights = np.linspace(0.0, rings.height, slices + 1)
    node, weight = np.polynomial.legendre.leggauss(8)
    crown = rings.outer[crown_run(rings.outer)]
    shoulder = min(float(crown[0, 1]), float(crown[-1, 1])) - 1e-3
    areas, inertias, greatest = [], [], []
    for y in (heights[1:] + heights[:-1]) / 2:
        area = inertia = thick = 0.0
        for a, b in spans(rings, min(float(y), shoulder)):
            x = a + (node + 1) / 2 * (b - a)
            h = thickness.at(x, np.full(8, y))
            if float(h.min()) <= 0.0:
                k = int(h.argmin())
                thin = round(float(h[k]), 3)
                at = {"x": round(float(x[k]), 1), "y": round(float(y), 1)}
                raise Refusal("bridge.too_thin", value=thin, limit=0.3, **at)
            area += float(np.sum(weight * h)) * (b - a) / 2
            inertia += float(np.sum(weight * h**3)) * (b - a) / 24
            thick = max(thick, float(h.max()))
        areas.append(area)
        inertias.append(inertia)
        greatest.append(thick)
    return Column(heights, np.array(areas), np.array(inertias), np.array(greatest))


def _matrices(column: Column, modulus: float) -> tuple[Array, Array]:
    """Bending stiffness and geometric matrix per unit load (deflection, turn at every station)."""
    n = len(column.heights_mm)
    k, g = np.zeros((2 * n, 2 * n)), np.zeros((2 * n, 2 * n))
    for e, inertia in enumerate(column.inertias_mm4):
        length = column.heights_mm[e + 1] - column.heights_mm[e]
        a = 6 * length
        ke = np.array(
            [
                [12, a, -12, a],
                [a, 4 * length**2, -a, 2 * length**2],
                [-12, -a, 12, -a],
                [a, 2 * length**2, -a, 4 * length**2],
            ]
        ) * (modulus * inertia / length**3)
        b = 3 * length
        ge = np.array(
            [
                [36, b, -36, b],
                [b, 4 * length**2, -b, -(length**2)],
                [-36, -b, 36, -b],
                [b, -(length**2), -b, 4 * length**2],
            ]
        ) / (30 * length)
        at = slice(2 * e, 2 * e + 4)
        k[at, at] += ke
        g[at, at] += ge
    return k, g


def _kept(n: int, held: bool) -> NDArray[np.int64]:
    """Freedoms that move: the foot is clamped, a held top cannot travel but can turn."""
    every = np.arange(2, 2 * n)
    return every[every != 2 * n - 2] if held else every


def critical_load(column: Column, modulus: float, held: bool) -> float:
    """Load [N] at which the straight column gives way, top held or free.

    Least P with (K - P G) w = 0. Euler: pi^2 EI / (4 L^2) free, 20.19 EI / L^2 held. A column of one
    dimension is 19 to 32 % too strong against a body of three.
    """
    from scipy.linalg import eigh

    k, g = _matrices(column, modulus)
    kept = _kept(len(column.heights_mm), held)
    largest = eigh(g[np.ix_(kept, kept)], k[np.ix_(kept, kept)], eigvals_only=True)[-1]
    return float(1 / largest)


def bent(column: Column, modulus: float, load_n: float, line_mm: Array, held: bool) -> Array | None:
    """Bending deflection and turn of a column whose unloaded centre line is not upright, or None past its
    load.

    Parameters
    ----------
    column : Column
    modulus : float
        Across the grain, divided by 1 + creep for the long run [MPa].
    load_n : float
        Upright load on the top [N].
    line_mm : array (stations, 2)
        Centre line before the load: travel [mm] and slope.
    held : bool
        Whether the strings hold the top.

    Returns
    -------
    array (stations, 2) or None
        Deflection [mm] and turn added by the load; None at or over the critical load, where the linear answer
        would change sign and look harmless.

    Notes
    -----
    (K - P G) w = P G y0.
    """
    if load_n >= critical_load(column, modulus, held):
        return None
    k, g = _matrices(column, modulus)
    kept = _kept(len(column.heights_mm), held)
    found = np.zeros(2 * len(column.heights_mm))
    push = load_n * (g @ line_mm.ravel())
    found[kept] = np.linalg.solve((k - load_n * g)[np.ix_(kept, kept)], push[kept])
    return found.reshape(-1, 2)


def greatest_stress(column: Column, modulus: float, load_n: float, deflection: Array) -> float:
    """Greatest pressure across the grain [MPa]: P / A + M h / (2 I) over the stations' slices.

    The moments at the ends of a slice are those of its own curvature with the same modulus.
    """
    worst = 0.0
    for e in range(len(column.areas_mm2)):
        length = column.heights_mm[e + 1] - column.heights_mm[e]
        (w1, t1), (w2, t2) = deflection[e], deflection[e + 1]
        first = (-6 * w1 + 6 * w2) / length**2 - (4 * t1 + 2 * t2) / length
        second = (6 * w1 - 6 * w2) / length**2 + (2 * t1 + 4 * t2) / length
        bend = modulus * max(abs(first), abs(second)) * column.thicknesses_mm[e] / 2
        worst = max(worst, load_n / column.areas_mm2[e] + bend)
    return worst


def centre_line(column: Column, thickness: Thickness, load: LeanLoad) -> tuple[Array, float, float]:
    """The unloaded centre line (stations, 2) [mm, slope], the centre's and the back's lean [deg].

    The back is flat: with the back upright the middle of the top lies (foot - top) / 2 behind the middle of
    the foot. A measured lean of the back is turned into that of the centre line and the other way round.
    """
    y = column.heights_mm
    total = y[-1]
    h = thickness.at(np.zeros_like(y), y)
    built = math.degrees(math.atan((h[0] - h[-1]) / 2 / total))
    centre = load.angle_deg - built if load.face == "back" else load.angle_deg
    u = y / total
    slope = math.tan(math.radians(centre))
    travel = slope * y + 4 * load.bend_mm * u * (1 - u)
    turn = slope + 4 * load.bend_mm * (1 - 2 * u) / total
    return np.column_stack([travel, turn]), centre, centre + built


def leaned(
    column: Column, thickness: Thickness, modulus: float, load: LeanLoad, limits: LeanLimits
) -> LeanAnswer:
    """Stress, reserve and verdict of a leaning bridge, with the top free and held by the strings.

    Parameters
    ----------
    column : Column
    thickness : Thickness
        Back flat.
    modulus : float
        Young's modulus from the feet to the top [MPa].
    load : LeanLoad
    limits : LeanLimits

    Returns
    -------
    LeanAnswer

    Notes
    -----
    Creep: modulus / (1 + phi), so deflections grow as 1 / (1 - P (1 + phi) / Pcr). Top free is the bad
    case, top held by the strings the good one; the truth lies between.
    """
    line, centre, back = centre_line(column, thickness, load)
    held, free = critical_load(column, modulus, True), critical_load(column, modulus, False)
    soft = modulus / (1 + load.creep)
    stresses: list[float | None] = []
    tip = None
    for top_held in (False, True):
        found = bent(column, soft, load.load_n, line, top_held)
        stresses.append(None if found is None else greatest_stress(column, soft, load.load_n, found))
        if not top_held and found is not None:
            tip = float(found[-1, 0])
    long_load = load.load_n * (1 + load.creep)
    reserve = held / long_load
    verdict = judged(back, load.bend_mm, stresses[1], reserve, limits)
    if verdict == "leave" and stresses[0] is None:
        verdict = "watch"
    return LeanAnswer(
        centre, back, held, free, reserve, free / long_load, stresses[0], stresses[1], tip, verdict
    )


def judged(
    back_deg: float, bend_mm: float, stress_held_mpa: float | None, reserve_held: float, limits: LeanLimits
) -> Verdict:
    """What to do with a leaning or bent bridge.

    replace: bent over the limit, or the held column would not stand, or stressed over the limit;
    straighten: the back leans by the limit or more; watch: half way there; else leave.
    """
    stress = math.inf if stress_held_mpa is None else stress_held_mpa
    if (
        abs(bend_mm) >= limits.replace_mm
        or reserve_held < limits.least_reserve
        or stress >= limits.replace_mpa
    ):
        return "replace"
    if abs(back_deg) >= limits.straighten_deg:
        return "straighten"
    if abs(back_deg) >= limits.watch_deg or abs(bend_mm) >= limits.watch_mm or stress >= limits.watch_mpa:
        return "watch"
    return "leave"
