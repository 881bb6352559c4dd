"""The camber: depths from a straight edge, its deepest place, before and after."""

from dataclasses import dataclass

import numpy as np

from purfling.craft.bow.taper import Floats
from purfling.craft.refusals import Refusal


@dataclass(frozen=True)
class Camber:
    """Camber towards the hair at stations from the stick's end [mm].

    ``depth_mm`` is the height over the straight line between the first and the last station.
    """

    at_mm: tuple[float, ...]
    height_mm: tuple[float, ...]

    def __post_init__(self) -> None:
        if len(self.at_mm) < 3:
            raise Refusal("bow.camber_too_short", value=len(self.at_mm))
        if len(self.at_mm) != len(self.height_mm):
            raise Refusal("bow.camber_lengths", first=len(self.at_mm), second=len(self.height_mm))
        for left, right in zip(self.at_mm, self.at_mm[1:], strict=False):
            if right <= left:
                raise Refusal("bow.stations_fall", first=left, second=right)

    @property
    def depth_mm(self) -> Floats:
        """Depth at the stations [mm]; nothing at both ends."""
        x, y = np.asarray(self.at_mm), np.asarray(self.height_mm)
        return np.asarray(y - (y[0] + (y[-1] - y[0]) * (x - x[0]) / (x[-1] - x[0])))

    def depth_at(self, at_mm: Floats) -> Floats:
        """Depth [mm] at places between the ends: the natural cubic spline through the stations."""
        return spline(np.asarray(self.at_mm), self.depth_mm, np.asarray(at_mm))

    def deepest(self) -> tuple[float, float]:
        """(place, depth) of the deepest point of the spline [mm], to 0.1 mm of place."""
        count = round((self.at_mm[-1] - self.at_mm[0]) * 10) + 1
        x = np.linspace(self.at_mm[0], self.at_mm[-1], count)
        depth = self.depth_at(x)
        best = int(np.argmax(depth))
        return float(x[best]), float(depth[best])


def spline(stations: Floats, values: Floats, at_mm: Floats) -> Floats:
    """Natural cubic spline through points, at places.

    Parameters
    ----------
    stations, values : array
        Places, rising, and what stands there.
    at_mm : array
        Where it is asked [mm].

    Equation: second derivatives from the three-term system, nothing at both ends.
    """
    h = np.diff(stations)
    n = len(stations)
    system, right = np.eye(n), np.zeros(n)
    for i in range(1, n - 1):
        system[i, i - 1 : i + 2] = h[i - 1], 2 * (h[i - 1] + h[i]), h[i]
        right[i] = 6 * ((values[i + 1] - values[i]) / h[i] - (values[i] - values[i - 1]) / h[i - 1])
    bend = np.linalg.solve(system, right)
    k = np.clip(np.searchsorted(stations, at_mm, side="right") - 1, 0, n - 2)
    left, far = at_mm - stations[k], stations[k + 1] - at_mm
    return np.asarray(
        (bend[k] * far**3 + bend[k + 1] * left**3) / (6 * h[k])
        + (values[k] / h[k] - bend[k] * h[k] / 6) * far
        + (values[k + 1] / h[k] - bend[k + 1] * h[k] / 6) * left
    )
