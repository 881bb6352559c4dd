"""Hair: how much of it, how long it is tied, and what the season makes of it."""

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np

Tied = Literal["wet", "dry"]

# Gay-Lussac's scale: share of the whole lengthening at 0, 10, ... 100 percent of humidity.
_SCALE = (0.0, 0.209, 0.388, 0.528, 0.637, 0.728, 0.792, 0.852, 0.905, 0.954, 1.0)
STRAIN_LOW, STRAIN_HIGH = 0.020, 0.025  # human hair, dry to wet
PER_PERCENT_BELOW = 0.002  # a coefficient below this is a strain per percent of humidity
HAIR_DENSITY = 1300.0
HAIRS_PER_MM = 17.0


def scale_share(humidity_percent: float) -> float:
    """Share of the whole lengthening from dry to wet that hair has at a humidity.

    Equation: Gay-Lussac's scale, straight between its tens. Validity: human hair; an upper guide for horse.
    """
    return float(np.interp(humidity_percent, np.arange(0.0, 101.0, 10.0), _SCALE))


MIDDLE_SLOPE = (scale_share(65.0) - scale_share(35.0)) / 30.0  # share per percent, 35 to 65


def whole_strain(coefficient: float) -> float:
    """Strain from dry to wet of a coefficient given as such, or per percent of humidity.

    A coefficient under 0.002 is a strain per percent as a shop measures it between 35 and 65 percent; the
    scale is stretched so that it has this slope there.
    """
    return coefficient / MIDDLE_SLOPE if coefficient < PER_PERCENT_BELOW else coefficient


@dataclass(frozen=True)
class Season:
    """Changes of a ribbon's length [mm]; all positive.

    ``shrink_mm`` from tying to the room's humidity, ``shorter_mm`` from there to the driest days,
    ``longer_mm`` to the dampest, ``swing_mm`` between both.
    """

    tie_length_mm: float
    shrink_mm: float
    shorter_mm: float
    longer_mm: float
    swing_mm: float


def season(
    length_mm: float,
    tied: Tied,
    humidity_percent: float,
    driest_percent: float,
    dampest_percent: float,
    strain: float,
) -> Season:
    """What a ribbon does from tying through the year.

    Parameters
    ----------
    length_mm : float
        Length between the knots wished at the room's humidity [mm].
    tied : str
        wet (soaked) or dry (at the room's humidity).
    humidity_percent, driest_percent, dampest_percent : float
        The room now, the driest and the dampest days [%].
    strain : float
        Lengthening from dry to wet, over the length.

    Equation: dL = L strain (share(h2) - share(h1)).
    """
    now, dry, damp = (scale_share(h) for h in (humidity_percent, driest_percent, dampest_percent))
    whole = length_mm * strain
    shrink = whole * (1.0 - now) if tied == "wet" else 0.0
    return Season(
        length_mm + shrink,
        shrink,
        max(whole * (now - dry), 0.0),
        max(whole * (damp - now), 0.0),
        whole * abs(damp - dry),
    )


def hair_mass_g(count: float, diameter_mm: float, length_mm: float) -> float:
    """Mass of some hairs [g]: count * pi d^2 / 4 * length * 1300 kg/m3."""
    return count * math.pi * diameter_mm**2 / 4 * length_mm * HAIR_DENSITY * 1e-6


def hair_count(mass_g: float, diameter_mm: float, length_mm: float) -> float:
    """How many hairs weigh ``mass_g`` [g]."""
    return mass_g / hair_mass_g(1.0, diameter_mm, length_mm)


@dataclass(frozen=True)
class FrogRoom:
    """What the frog's slot leaves [mm]: ``forward_mm`` towards the head (slacken), ``back_mm`` (tighten)."""

    forward_mm: float
    back_mm: float | None


def wished_eye_place(slot_mm: float, shorter_mm: float, longer_mm: float, frog_travel_mm: float) -> float:
    """Place of the eye from the slot's front end, hair slack, that shares the spare room [mm].

    Equation: shorter + (slot - shorter - longer - travel) / 2: the eye runs forward by ``shorter_mm`` on the
    driest days and back by ``longer_mm`` and the travel to playing tension on the dampest.
    """
    return shorter_mm + (slot_mm - shorter_mm - longer_mm - frog_travel_mm) / 2.0
