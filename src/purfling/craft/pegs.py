"""Pegs: how far they go in by wear, and when a hole is bushed."""

import math
from dataclasses import dataclass


@dataclass(frozen=True)
class PegLimits:
    """What the shop allows [mm]: largest hole, least stand-out, least distance of string hole to cheek."""

    bush_above_mm: float
    standout_least_mm: float
    cheek_least_mm: float


@dataclass(frozen=True)
class Peg:
    """One peg, by its hole [mm]. Diameter at the collar side of the peg box; None where it was not read."""

    diameter_mm: float
    standout_mm: float | None = None
    hole_to_cheek_mm: float | None = None


@dataclass(frozen=True)
class PegWear:
    """What a wear does to a peg; ``wear_left_mm`` until it must be bushed, and which limit comes first."""

    travel_mm: float
    diameter_mm: float
    standout_mm: float | None
    hole_to_cheek_mm: float | None
    wear_left_mm: float
    limited_by: str


def included_angle_deg(taper: float) -> float:
    """Included angle of a cone of 1:taper on the diameter, 2 atan(1 / (2 taper)) [degrees]."""
    return 2.0 * math.degrees(math.atan(0.5 / taper))


def travel_mm(wear_mm: float, taper: float) -> float:
    """How far a peg goes in when peg and hole together lose ``wear_mm`` of diameter, wear x taper [mm]."""
    return wear_mm * taper


def peg_wear(peg: Peg, wear_mm: float, taper: float, limits: PegLimits) -> PegWear:
    """A peg after a wear, and the further wear it bears.

    Parameters
    ----------
    peg : as it stands; wear_mm : lost on the diameter [mm]; taper : 30 for 1:30; limits : the shop's own.

    The hole grows by the wear; the peg goes in by wear x taper, the collar comes nearer to the box by as much
    and the string hole nearer to the cheek on the far side.
    """
    goes = travel_mm(wear_mm, taper)
    diameter = peg.diameter_mm + wear_mm
    standout = None if peg.standout_mm is None else peg.standout_mm - goes
    cheek = None if peg.hole_to_cheek_mm is None else peg.hole_to_cheek_mm - goes
    left = {"hole": limits.bush_above_mm - diameter}
    if standout is not None:
        left["standout"] = (standout - limits.standout_least_mm) / taper
    if cheek is not None:
        left["cheek"] = (cheek - limits.cheek_least_mm) / taper
    by = min(left, key=lambda k: left[k])
    return PegWear(goes, diameter, standout, cheek, left[by], by)
