"""Thickness over the face of a bridge: back flat, front flat or curved, by rule or by stations."""

from dataclasses import dataclass, field
from itertools import pairwise
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from purfling.craft.bridge.places import crown_run
from purfling.craft.bridge.rings import Rings
from purfling.craft.refusals import Refusal

Array = NDArray[np.float64]
Rule = Literal["edge", "height", "stations"]

THINNEST = 0.3  # mm


@dataclass(frozen=True, eq=False)
class Thickness:
    """Thickness h(x, y) [mm] of the wood.

    ``rule``: "edge" makes the crown's edge uniform, h = foot - (foot - top) y / y_top(x), y_top the crown's
    height at x (``crown_x_mm``, ``crown_y_mm``); "height" is linear in y up to the highest point; "stations"
    is linear between ``stations`` ((height, thickness), ...). ``bulge_mm`` is added to a rule as
    4 bulge u (1 - u), u = y / y_top: a front that is curved from foot to top.
    """

    foot_mm: float
    top_mm: float
    rule: Rule
    crown_x_mm: Array
    crown_y_mm: Array
    bulge_mm: float = 0.0
    stations: tuple[tuple[float, float], ...] = ()
    _knots: tuple[Array, Array, Array, Array] = field(init=False, repr=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "_knots", _station_sums(self.stations or ((0.0, 1.0),)))

    def _top(self, x: Array) -> Array:
        return np.interp(x, self.crown_x_mm, self.crown_y_mm)

    def at(self, x: Array, y: Array) -> Array:
        """Thickness [mm] at points."""
        if self.rule == "stations":
            return np.interp(y, self._knots[0], self._knots[1])
        u = y / self._top(x)
        return self.foot_mm - (self.foot_mm - self.top_mm) * u + 4 * self.bulge_mm * u * (1 - u)

    def area(self, x: Array, y: Array) -> Array:
        """Integral of h from the foot line up to y [mm2], exact."""
        if self.rule == "stations":
            return _from_knots(self._knots, y, 2)
        top, drop, b = self._top(x), self.foot_mm - self.top_mm, 4 * self.bulge_mm
        return self.foot_mm * y + (b - drop) * y * y / (2 * top) - b * y**3 / (3 * top * top)

    def moment(self, x: Array, y: Array) -> Array:
        """Integral of y h from the foot line up to y [mm3], exact."""
        if self.rule == "stations":
            return _from_knots(self._knots, y, 3)
        top, drop, b = self._top(x), self.foot_mm - self.top_mm, 4 * self.bulge_mm
        return self.foot_mm * y * y / 2 + (b - drop) * y**3 / (3 * top) - b * y**4 / (4 * top * top)


def _station_sums(stations: tuple[tuple[float, float], ...]) -> tuple[Array, Array, Array, Array]:
    """Heights, thicknesses, and the integrals of h and y h up to each station."""
    inner = sorted(stations)
    y = np.array([-1000.0, *[s[0] for s in inner], 1000.0])
    h = np.array([inner[0][1], *[s[1] for s in inner], inner[-1][1]])
    low, high = y[:-1], y[1:]
    slope = np.diff(h) / np.diff(y)
    base = h[:-1] - slope * low
    first = np.concatenate([[0.0], np.cumsum(base * (high - low) + slope * (high**2 - low**2) / 2)])
    second = np.concatenate(
        [[0.0], np.cumsum(base * (high**2 - low**2) / 2 + slope * (high**3 - low**3) / 3)]
    )
    return y, h, first, second


def _from_knots(knots: tuple[Array, Array, Array, Array], y: Array, which: int) -> Array:
    def upto(v: Array) -> Array:
        k = np.clip(np.searchsorted(knots[0], v, side="right") - 1, 0, len(knots[0]) - 2)
        low = knots[0][k]
        slope = (knots[1][k + 1] - knots[1][k]) / (knots[0][k + 1] - low)
        base = knots[1][k] - slope * low
        if which == 2:
            part = base * (v - low) + slope * (v * v - low * low) / 2
        else:
            part = base * (v * v - low * low) / 2 + slope * (v**3 - low**3) / 3
        return np.asarray(knots[which][k] + part)

    return upto(np.asarray(y, dtype=float)) - upto(np.zeros(1))


def crown_of(rings: Rings) -> tuple[Array, Array]:
    """The crown as (x, y) [mm], x rising; beyond its ends its end's height stands for y_top."""
    run = rings.outer[crown_run(rings.outer)]
    order = np.argsort(run[:, 0], kind="stable")
    return run[order, 0], run[order, 1]


def thickness_by_rule(
    rings: Rings, foot_mm: float, top_mm: float, rule: Rule = "edge", bulge_mm: float = 0.0
) -> Thickness:
    """Thickness from foot to top by a rule.

    Raises
    ------
    Refusal
        Less than 0.3 mm anywhere.
    """
    level = np.array([-1.0, 1.0]), np.full(2, rings.height)
    crown = level if rule == "height" else crown_of(rings)
    return _checked(rings, Thickness(foot_mm, top_mm, rule, crown[0], crown[1], bulge_mm))


def thickness_by_stations(rings: Rings, stations: tuple[tuple[float, float], ...]) -> Thickness:
    """Thickness linear between stations ((height, thickness), ...) [mm], constant beyond the first and last.

    Raises
    ------
    Refusal
        Two stations at one height; less than 0.3 mm anywhere.
    """
    rows = tuple(sorted(stations))
    for (a, _), (b, _) in pairwise(rows):
        if a == b:
            raise Refusal("bridge.same_station", value=float(a))
    flat = Thickness(rows[0][1], rows[-1][1], "stations", np.zeros(1), np.ones(1), 0.0, rows)
    return _checked(rings, flat)


def _checked(rings: Rings, found: Thickness) -> Thickness:
    points = np.vstack([rings.outer, *rings.holes])
    heights = np.array([s[0] for s in found.stations if 0 <= s[0] <= rings.height])
    x = np.concatenate([points[:, 0], np.zeros(len(heights))])
    y = np.concatenate([points[:, 1], heights])
    h = found.at(x, y)
    k = int(np.argmin(h))
    if h[k] < THINNEST - 1e-9:
        raise Refusal(
            "bridge.too_thin",
            value=round(float(h[k]), 2),
            x=round(float(x[k]), 1),
            y=round(float(y[k]), 1),
            limit=THINNEST,
        )
    return found
