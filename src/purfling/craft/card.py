"""The card: everything the set-up needs, resolved, and the refusals of a card that is no instrument."""

import math
from dataclasses import dataclass

from purfling.craft.geometry import sag
from purfling.craft.quantities import Family
from purfling.craft.refusals import Refusal
from purfling.craft.strings import lateral_places

STEEPEST_SLOPE = 20.0  # degrees; beyond it the angle of the root was meant


@dataclass(frozen=True)
class StringOn:
    """One string of a card: name, diameter [mm], tension [N]."""

    name: str
    diameter_mm: float
    tension_n: float


@dataclass(frozen=True)
class Gauge:
    """One standard deviation of each kind of reading [mm]."""

    projection_mm: float = 0.25
    clearance_end_mm: float = 0.1
    clearance_nut_mm: float = 0.03
    length_mm: float = 0.3
    radius_mm: float = 0.5
    spacing_mm: float = 0.1


@dataclass(frozen=True)
class Card:
    """Everything the set-up needs, with nothing left out (defaults filled in by the slips' side).

    ``board_slope_deg`` None: worked out. ``notch_depth_mm`` None: a third of each diameter.
    ``flat_low_mm``: where a flat under the lowest string begins. Widths None: no edge margins.
    """

    family: Family
    string_length_mm: float
    projection_mm: float
    board_slope_deg: float | None
    neck_stop_mm: float
    overstand_mm: float
    arch_mm: float
    stop_mm: float
    board_length_mm: float
    radius_nut_mm: float
    radius_end_mm: float
    edge_at_root_mm: float
    width_root_mm: float
    width_nut_mm: float | None
    width_end_mm: float | None
    flat_low_mm: float | None
    nut_spacing_mm: float
    nut_spacing: str
    nut_clearance_mm: tuple[float, ...]
    nut_datum: str
    end_clearance_mm: tuple[float, ...]
    end_datum: str
    end_direction: str
    bridge_spacing_mm: float
    bridge_spacing: str
    foot_span_mm: float
    foot_length_mm: float
    notch_depth_mm: float | None
    saddle_height_mm: float
    saddle_distance_mm: float
    strings: tuple[StringOn, ...]
    tension_state: str
    gauge: Gauge = Gauge()


def board_slope(card: Card) -> float:
    """Board slope worked out from projection, arch, root and stop [degrees].

    theta = atan((P + arch - root) / stop), root = overstand + edge + sag(R_root, width_at_root / 2).
    """
    share = card.neck_stop_mm / card.board_length_mm
    r_root = card.radius_nut_mm + (card.radius_end_mm - card.radius_nut_mm) * share
    _inside_arc(card.width_root_mm / 2, r_root, "board.width_root_mm")
    root = card.overstand_mm + card.edge_at_root_mm + float(sag(r_root, card.width_root_mm / 2))
    return math.degrees(math.atan((card.projection_mm + card.arch_mm - root) / card.stop_mm))


def _inside_arc(lateral: float, radius: float, field: str) -> None:
    if abs(lateral) >= radius:
        raise Refusal("setup.outside_arc", field=field, value=round(abs(lateral), 2), limit=round(radius, 2))


def check_card(card: Card) -> None:
    """Refuse a card that is no instrument.

    Raises
    ------
    Refusal
        Board longer than the string, lateral places outside the arc, fewer than three strings, lists of other
        lengths than the strings, slope over 20 degrees, feet that overlap.
    """
    n = len(card.strings)
    if n < 3:
        raise Refusal("setup.too_few_strings", value=n)
    for field, values in (
        ("nut.clearance_mm", card.nut_clearance_mm),
        ("end.clearance_mm", card.end_clearance_mm),
    ):
        if len(values) != n:
            raise Refusal("slips.wrong_length", field=field, value=len(values), limit=n)
    if card.board_length_mm >= card.string_length_mm:
        raise Refusal("setup.board_too_long", value=card.board_length_mm, limit=card.string_length_mm)
    _inside_arc(card.nut_spacing_mm / 2, card.radius_nut_mm, "nut.spacing_mm")
    widest = max(abs(y) for y in _end_places(card))
    _inside_arc(widest, card.radius_end_mm, "bridge.spacing_mm")
    for field, width, radius in (
        ("board.width_nut_mm", card.width_nut_mm, card.radius_nut_mm),
        ("board.width_end_mm", card.width_end_mm, card.radius_end_mm),
    ):
        if width is not None:
            _inside_arc(width / 2, radius, field)
    if card.flat_low_mm is not None:
        _inside_arc(card.flat_low_mm, min(card.radius_nut_mm, card.radius_end_mm), "board.flat_low_mm")
    if card.foot_length_mm >= card.foot_span_mm / 2:
        raise Refusal("setup.feet_overlap", value=card.foot_length_mm, limit=card.foot_span_mm / 2)
    slope = card.board_slope_deg if card.board_slope_deg is not None else board_slope(card)
    if slope > STEEPEST_SLOPE:
        raise Refusal("setup.slope_is_root_angle", value=round(slope, 2), limit=STEEPEST_SLOPE)


def diameters(card: Card) -> tuple[float, ...]:
    """Diameters of the strings, lowest first [mm]."""
    return tuple(s.diameter_mm for s in card.strings)


def _end_places(card: Card) -> list[float]:
    wide = diameters(card)
    nut = lateral_places(card.nut_spacing_mm, card.nut_spacing, wide)
    bridge = lateral_places(card.bridge_spacing_mm, card.bridge_spacing, wide)
    share = card.board_length_mm / card.string_length_mm
    return [a + (b - a) * share for a, b in zip(nut, bridge, strict=True)]
