"""What follows from a change: wood off the board, another clearance, projection or set of strings."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from purfling.craft.card import Card, StringOn
from purfling.craft.refusals import Refusal
from purfling.craft.setup import Setup, setup


@dataclass(frozen=True)
class Wish:
    """What shall differ. Wood off the board is positive; clearances and projection are changes [mm].

    ``clearance_change_mm``: one for each string, in the card's own datum and direction.
    ``nut_kept``: the nut is left as high as it is; else it is recut to its old clearance.
    """

    board_at_nut_mm: float = 0.0
    board_at_end_mm: float = 0.0
    nut_kept: bool = False
    clearance_change_mm: tuple[float, ...] = ()
    projection_change_mm: float = 0.0
    new_strings: tuple[StringOn, ...] = ()


@dataclass(frozen=True)
class Change:
    """What becomes of the set-up; negative is lower. Lists run from the lowest string to the highest.

    ``bridge_error_mm``: the clearance's gauge error carried to the bridge, one standard deviation.
    """

    bridge_mm: tuple[float, ...]
    bridge_error_mm: float
    centre_mm: float
    nut_mm: float
    projection_mm: float
    action_if_bridge_kept_mm: tuple[float, ...]
    down_force_change_n: float
    before: Setup
    after: Setup


def plain(card: Card, found: Setup) -> Card:
    """The card with every clearance turned into underside, upright."""
    return replace(
        card,
        nut_clearance_mm=found.nut_clearance_mm,
        nut_datum="underside",
        end_clearance_mm=found.clearance_mm,
        end_datum="underside",
        end_direction="upright",
    )


def board_line_change_mm(
    card: Card, board_at_nut_mm: float, board_at_end_mm: float, slope_deg: float
) -> float:
    """Change of the projection by wood off, evenly across: -(t_e L/Lb - t_n (L/Lb - 1)) / cos(theta) [mm]."""
    share = card.string_length_mm / card.board_length_mm
    lower = board_at_end_mm * share - board_at_nut_mm * (share - 1.0)
    return -lower / math.cos(math.radians(slope_deg))


def wished_clearances(card: Card, change_mm: Sequence[float]) -> tuple[float, ...]:
    """Clearances at the end, underside and upright, when the readings change by so much [mm]."""
    moved = replace(
        card, end_clearance_mm=tuple(c + d for c, d in zip(card.end_clearance_mm, change_mm, strict=True))
    )
    return setup(moved).clearance_mm


def bridge_kept_mm(card: Card, wish: Wish, slope_deg: float) -> float:
    """Change of the clearance at the end with the bridge left alone: t_e - t_n (1 - Lb/L), nut kept t_e [mm].

    A projection that falls by dP adds dP cos(theta) Lb/L.
    """
    share = card.board_length_mm / card.string_length_mm
    nut = 0.0 if wish.nut_kept else wish.board_at_nut_mm * (1.0 - share)
    return wish.board_at_end_mm - nut - wish.projection_change_mm * math.cos(math.radians(slope_deg)) * share


def changed_card(card: Card, before: Setup, wish: Wish) -> Card:
    """The card after a wish, with clearances underside and upright and the slope pinned.

    Raises
    ------
    Refusal
        As ``change``.
    """
    base = plain(card, before)
    if wish.new_strings and len(wish.new_strings) != len(card.strings):
        raise Refusal(
            "slips.wrong_length", field="--strings", value=len(wish.new_strings), limit=len(card.strings)
        )
    ends = (
        wished_clearances(card, wish.clearance_change_mm)
        if wish.clearance_change_mm
        else base.end_clearance_mm
    )
    nuts = tuple(c + (wish.board_at_nut_mm if wish.nut_kept else 0.0) for c in base.nut_clearance_mm)
    for field, values in (("--clearance-at-end", ends), ("nut.clearance_mm", nuts)):
        for string, clear in zip(card.strings, values, strict=True):
            if clear <= 0:
                raise Refusal("setup.string_in_board", field=field, name=string.name, value=round(clear, 3))
    slope = before.board_slope_deg
    if wish.projection_change_mm and card.board_slope_deg is None:
        slope = setup(
            replace(card, projection_mm=card.projection_mm + wish.projection_change_mm)
        ).board_slope_deg
    fall = board_line_change_mm(card, wish.board_at_nut_mm, wish.board_at_end_mm, slope)
    return replace(
        base,
        projection_mm=card.projection_mm + wish.projection_change_mm + fall,
        board_slope_deg=slope,
        nut_clearance_mm=nuts,
        end_clearance_mm=ends,
        strings=wish.new_strings or card.strings,
    )


def change(card: Card, wish: Wish) -> Change:
    """What a wish does to bridge, nut, projection, clearances and load, the board slope kept.

    Parameters
    ----------
    card : the card as found; wish : what shall differ.

    Raises
    ------
    Refusal
        A clearance that would be nothing; another number of strings.

    With the old board line as reference the undersides move by -t_n at the nut (0 when it is kept) and by
    -t_e + ds at the end, and the notch by ((ds - t_e) L/Lb - n (L/Lb - 1)) / cos(theta), n the nut's move.
    Reference: docs/setup-geometry.md, section on change.
    """
    before = setup(card)
    new = changed_card(card, before, wish)
    after = setup(new)
    share = card.board_length_mm / card.string_length_mm
    tilt = math.cos(math.radians(before.board_slope_deg))
    left = bridge_kept_mm(card, wish, before.board_slope_deg)
    return Change(
        bridge_mm=tuple(
            b.notch_height_mm - a.notch_height_mm for a, b in zip(before.strings, after.strings, strict=True)
        ),
        bridge_error_mm=card.gauge.clearance_end_mm / (share * tilt),
        centre_mm=after.centre_height_mm - before.centre_height_mm,
        nut_mm=0.0 if wish.nut_kept else -wish.board_at_nut_mm,
        projection_mm=new.projection_mm - card.projection_mm,
        action_if_bridge_kept_mm=tuple(left for _ in card.strings),
        down_force_change_n=after.load.total_down_force_n - before.load.total_down_force_n,
        before=before,
        after=after,
    )
