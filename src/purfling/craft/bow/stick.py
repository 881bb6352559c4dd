"""The stick as a solid: diameters at stations, mass, centre, inertia."""

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np

from purfling.craft.bow.taper import Floats, law_diameter, law_moments
from purfling.craft.refusals import Refusal

Section = Literal["round", "octagonal"]
_TAN = math.tan(math.pi / 8)
# Area over d^2 and second moment over d^4; d across flats of an octagon.
AREA = {"round": math.pi / 4, "octagonal": 2 * _TAN}
BENDING = {"round": math.pi / 64, "octagonal": (2 * _TAN + 2 * _TAN**3 / 3) / 16}
_GAUSS = np.polynomial.legendre.leggauss(3)


@dataclass(frozen=True)
class Stick:
    """Diameters along a stick, straight between the stations; ``law``: by the law of 1856 instead.

    Parameters
    ----------
    at_mm, diameter_mm : tuple of float
        Stations from the stick's end, rising, and diameters there [mm]; with ``law`` its two ends.
    section : str
        round, or octagonal (diameters across flats).
    """

    at_mm: tuple[float, ...]
    diameter_mm: tuple[float, ...]
    section: Section = "round"
    law: bool = False

    def __post_init__(self) -> None:
        if len(self.at_mm) < 2:
            raise Refusal("bow.too_few_stations", value=len(self.at_mm))
        for left, right in zip(self.at_mm, self.at_mm[1:], strict=False):
            if right <= left:
                raise Refusal("bow.stations_fall", first=left, second=right)

    @property
    def start_mm(self) -> float:
        """First station [mm]."""
        return self.at_mm[0]

    @property
    def end_mm(self) -> float:
        """Last station [mm]."""
        return self.at_mm[-1]

    def diameter(self, at_mm: Floats) -> Floats:
        """Diameter [mm] at places [mm]."""
        if self.law:
            return law_diameter(at_mm)
        return np.asarray(np.interp(at_mm, self.at_mm, self.diameter_mm))

    def bending(self, at_mm: Floats) -> Floats:
        """Second moment of area [mm4] at places [mm]."""
        return np.asarray(BENDING[self.section] * self.diameter(at_mm) ** 4)

    def area(self, at_mm: Floats) -> Floats:
        """Cross section [mm2] at places [mm]."""
        return np.asarray(AREA[self.section] * self.diameter(at_mm) ** 2)


def ahead_of(stick: Stick, start_mm: float) -> Stick:
    """The stick from a place on towards the head; the whole stick where the place lies before it."""
    if start_mm <= stick.start_mm:
        return stick
    if start_mm >= stick.end_mm:
        raise Refusal("bow.outside_stick", value=start_mm, low=stick.start_mm, high=stick.end_mm)
    rest = [(x, d) for x, d in zip(stick.at_mm, stick.diameter_mm, strict=True) if x > start_mm]
    first = float(stick.diameter(np.array([start_mm]))[0])
    return Stick((start_mm, *(x for x, _ in rest)), (first, *(d for _, d in rest)), stick.section, stick.law)


@dataclass(frozen=True)
class Solid:
    """``volume_mm3``, ``centre_mm`` from the stick's end, ``gyration_mm`` about the centre."""

    volume_mm3: float
    centre_mm: float
    gyration_mm: float

    def mass_g(self, density_kg_m3: float) -> float:
        """Mass [g] at a density [kg/m3]."""
        return self.volume_mm3 * density_kg_m3 * 1e-6


def law_stick(end_mm: float, section: Section = "round") -> Stick:
    """A stick by the law of 1856, from its end to ``end_mm``."""
    d = law_diameter(np.array([0.0, end_mm]))
    return Stick((0.0, end_mm), (float(d[0]), float(d[1])), section, law=True)


def solid(stick: Stick) -> Solid:
    """Volume, centre and radius of gyration of a stick.

    Equation: integrals of A, x A, x^2 A. Exact: three Gauss points integrate a straight taper (degree 4)
    without error; under the law volume and centre come from the closed form.
    """
    edges = np.linspace(0.0, stick.end_mm, 201) if stick.law else np.asarray(stick.at_mm)
    half = np.diff(edges)[:, None] / 2
    x = (edges[:-1, None] + half) + half * _GAUSS[0]
    weighed = stick.area(x) * _GAUSS[1] * half
    volume = float(weighed.sum())
    centre = float((weighed * x).sum()) / volume
    gyration = math.sqrt(float((weighed * (x - centre) ** 2).sum()) / volume)
    if stick.law:
        square, first = law_moments(stick.end_mm)
        return Solid(AREA[stick.section] * square, first / square, gyration)
    return Solid(volume, centre, gyration)
