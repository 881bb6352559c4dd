"""Strings: tension from mass and pitch, and where they lie side by side."""

import itertools
import math
from collections.abc import Sequence

from purfling.craft.refusals import Refusal


def tension_n(density_g_per_m: float, string_length_mm: float, pitch_hz: float) -> float:
    """Tension of an ideal flexible string, T = mu (2 L f)^2.

    Parameters
    ----------
    density_g_per_m : mass per length [g/m]; string_length_mm [mm]; pitch_hz : open pitch [Hz].

    Returns
    -------
    float [N]. Valid to about 0.1 % (stiffness raises the pitch by some cents).
    """
    return density_g_per_m / 1000.0 * (2.0 * string_length_mm / 1000.0 * pitch_hz) ** 2


def scaled_tension_n(
    stated_tension_n: float,
    stated_length_mm: float,
    stated_pitch_hz: float,
    string_length_mm: float,
    pitch_hz: float,
) -> float:
    """A maker's stated tension carried to another length and pitch: T (L f / (L0 f0))^2 [N].

    The mass per length stays; ``stated_*`` are the length [mm] and the pitch [Hz] it was stated for.
    """
    return stated_tension_n * (string_length_mm * pitch_hz / (stated_length_mm * stated_pitch_hz)) ** 2


def plain_density_g_per_m(diameter_mm: float, density_kg_m3: float) -> float:
    """Mass per length of a plain round string [g/m] from its diameter [mm] and material [kg/m3]."""
    return density_kg_m3 * math.pi / 4.0 * (diameter_mm / 1000.0) ** 2 * 1000.0


def centres_even(spacing_mm: float, n: int) -> tuple[float, ...]:
    """Lateral places with equal distances between centres: (i/(n-1) - 1/2) spacing [mm]."""
    return tuple((i / (n - 1) - 0.5) * spacing_mm for i in range(n))


def gaps_even(spacing_mm: float, diameter_mm: Sequence[float]) -> tuple[float, ...]:
    """Lateral places with equal free gaps between neighbours; the outer centres keep their places [mm].

    Raises
    ------
    Refusal
        The strings are wider together than the spacing.
    """
    n = len(diameter_mm)
    free = spacing_mm - sum(diameter_mm[1:-1]) - (diameter_mm[0] + diameter_mm[-1]) / 2
    if free <= 0:
        raise Refusal("setup.no_gap", value=spacing_mm)
    gap = free / (n - 1)
    places = [-spacing_mm / 2]
    for one, other in itertools.pairwise(diameter_mm):
        places.append(places[-1] + one / 2 + gap + other / 2)
    return tuple(places)


def lateral_places(spacing_mm: float, spacing: str, diameter_mm: Sequence[float]) -> tuple[float, ...]:
    """Places by ``spacing``: ``centres`` or ``gaps`` [mm], lowest string first, bass negative."""
    if spacing == "gaps":
        return gaps_even(spacing_mm, diameter_mm)
    return centres_even(spacing_mm, len(diameter_mm))
