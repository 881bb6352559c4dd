"""The bridge as two springs and a mass, and the arithmetic of a tap or of an added mass."""

import math
from dataclasses import dataclass

from purfling.craft.refusals import Refusal


@dataclass(frozen=True)
class Lumped:
    """A rigid upper part on two springs: ``mass_g``; ``stiffness_n_per_m`` of each spring; ``arm_mm``
    from the middle to a spring; ``radius_mm`` of gyration about the point of turning; ``height_mm`` of the
    string over it."""

    mass_g: float
    stiffness_n_per_m: float
    arm_mm: float
    radius_mm: float
    height_mm: float


def bouncing_hz(part: Lumped) -> float:
    """Bouncing frequency [Hz]: (1 / 2 pi) sqrt(2 s / m)."""
    return math.sqrt(2 * part.stiffness_n_per_m / (part.mass_g * 1e-3)) / (2 * math.pi)


def rocking_hz(part: Lumped) -> float:
    """Rocking frequency [Hz]: (1 / 2 pi) sqrt(K / I), K = 2 s b^2, I = m e^2 (b arm, e radius)."""
    turning = 2 * part.stiffness_n_per_m * (part.arm_mm * 1e-3) ** 2
    inertia = part.mass_g * 1e-3 * (part.radius_mm * 1e-3) ** 2
    return math.sqrt(turning / inertia) / (2 * math.pi)


def mass_at_string_g(part: Lumped) -> float:
    """Mass [g] that would move alike at the string: I / h^2."""
    return part.mass_g * (part.radius_mm / part.height_mm) ** 2


def loaded_frequency(frequency_hz: float, effective_g: float, added_mg: float) -> float:
    """Frequency [Hz] with a small mass at the string: f0 / sqrt(1 + dm / m_e)."""
    return frequency_hz / math.sqrt(1 + added_mg * 1e-3 / effective_g)


def effective_mass(frequency_hz: float, loaded_hz: float, added_mg: float) -> float:
    """Effective mass at the top [g] from two taps, without and with an added mass, feet held alike.

    m_e = dm / ((f0 / f1)^2 - 1), exact for one mode; Woodhouse, euphonics.org 7.5.5.

    Raises
    ------
    Refusal
        The frequency did not fall with the mass.
    """
    if not loaded_hz < frequency_hz:
        raise Refusal("bridge.not_lower", value=float(loaded_hz), limit=float(frequency_hz))
    return added_mg * 1e-3 / ((frequency_hz / loaded_hz) ** 2 - 1)


def taps_mean(taps_hz: tuple[float, ...]) -> tuple[float, float | None]:
    """Mean of some taps [Hz] and its standard error [Hz] (None for one tap)."""
    n = len(taps_hz)
    mean = sum(taps_hz) / n
    if n < 2:
        return mean, None
    return mean, math.sqrt(sum((f - mean) ** 2 for f in taps_hz) / (n - 1) / n)
