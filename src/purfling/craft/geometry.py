"""Arcs and circles of the board and the bridge."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from purfling.craft.refusals import Refusal

Array = NDArray[np.float64]

STRAIGHT = 1.0e5  # mm; a fitted radius beyond it is a straight line


@dataclass(frozen=True)
class FittedCircle:
    """Circle through points: lateral place of its centre, height of its centre, radius (all mm)."""

    lateral_mm: float
    height_mm: float
    radius_mm: float

    def top_at(self, lateral_mm: float) -> float:
        """Height of the upper arc at a lateral place (mm)."""
        inside = self.radius_mm**2 - (lateral_mm - self.lateral_mm) ** 2
        if inside < 0:
            raise Refusal("setup.outside_curve", value=lateral_mm, limit=self.radius_mm)
        return self.height_mm + math.sqrt(inside)


def sag(radius_mm: Array | float, lateral_mm: Array | float) -> Array:
    """Depth of an arc below its crown at a lateral place: R - sqrt(R^2 - y^2), the exact arc.

    Parameters
    ----------
    radius_mm, lateral_mm : array or float [mm], broadcast against each other.

    Returns
    -------
    array [mm]; NaN where the place lies outside the arc (callers refuse that first).

    Reference: docs/setup-geometry.md. Its parabola y^2 / 2R is wrong by 0.377 at y = 21, R = 42.
    """
    r = np.asarray(radius_mm, dtype=np.float64)
    y = np.asarray(lateral_mm, dtype=np.float64)
    return np.asarray(r - np.sqrt(r * r - y * y))


def surface(radius_mm: Array, lateral_mm: Array, flat_low_mm: float | None = None) -> Array:
    """Height of a board's cross section against its crown (negative), with a flat on the bass side.

    Beyond y = -flat_low_mm the arc is replaced by its tangent there.
    """
    arc = -sag(radius_mm, lateral_mm)
    if flat_low_mm is None:
        return np.asarray(arc)
    slope = flat_low_mm / np.sqrt(radius_mm**2 - flat_low_mm**2)
    tangent = -sag(radius_mm, flat_low_mm) - slope * (-lateral_mm - flat_low_mm)
    return np.where(lateral_mm < -flat_low_mm, tangent, arc)


def circle_fit(lateral_mm: Sequence[float], height_mm: Sequence[float]) -> FittedCircle:
    """Circle of least geometric squares through three or more points.

    Parameters
    ----------
    lateral_mm, height_mm : n numbers each [mm], n >= 3.

    Raises
    ------
    Refusal
        The points lie on a straight line or curve upwards.

    Method: Gauss-Newton on the distances, begun at the algebraic fit.
    """
    x = np.asarray(lateral_mm, dtype=np.float64)
    z = np.asarray(height_mm, dtype=np.float64)
    mx, mz = float(x.mean()), float(z.mean())
    u, v = x - mx, z - mz
    span = float(np.abs(u).max())
    system = np.column_stack((u, v, np.ones_like(u)))
    normal = system.T @ system
    if span == 0.0 or abs(np.linalg.det(normal)) < 1e-9 * span**4:
        raise Refusal("setup.no_curve")
    a, b, c = (float(k) for k in np.linalg.solve(normal, system.T @ (u * u + v * v)))
    cx, cz = a / 2, b / 2
    radius = math.sqrt(max(c + cx * cx + cz * cz, 0.0))
    for _ in range(60):
        dx, dz = u - cx, v - cz
        distance = np.sqrt(dx * dx + dz * dz)
        jacobian = np.column_stack((-dx / distance, -dz / distance, -np.ones_like(dx)))
        normal = jacobian.T @ jacobian
        step = np.linalg.solve(normal, -jacobian.T @ (distance - radius))
        cx, cz, radius = cx + float(step[0]), cz + float(step[1]), radius + float(step[2])
        if radius > STRAIGHT:
            raise Refusal("setup.no_curve")
        if float(np.abs(step).max()) < 1e-10 * max(radius, 1.0):
            break
    if cz > 0:
        raise Refusal("setup.curve_upwards")
    return FittedCircle(cx + mx, cz + mz, radius)
