"""The afterlength: its length, its pitch, and the tailpiece's move that gives it."""

import math
from dataclasses import dataclass

SHARE = 1.0 / 6.0  # of the string length; published rule of makers


@dataclass(frozen=True)
class TailMove:
    """How the tailpiece moves to give a wished afterlength [mm].

    ``move_mm`` positive: towards the saddle (a longer afterlength). ``loop_mm``: change of the cord's loop,
    twice the move with the other sign, less knot and stretch. ``gap_mm``: tailpiece to saddle afterwards.
    """

    move_mm: float
    loop_mm: float
    gap_mm: float | None


def afterlength_target_mm(string_length_mm: float) -> float:
    """The afterlength of a sixth of the string length [mm]."""
    return string_length_mm * SHARE


def afterlength_pitch_hz(pitch_hz: float, string_length_mm: float, afterlength_mm: float) -> float:
    """Pitch of the afterlength of the same string at the same tension, f L / La [Hz].

    A winding of silk there has another mass: the note is indicative.
    """
    return pitch_hz * string_length_mm / afterlength_mm


def interval_cents(pitch_hz: float, other_hz: float) -> float:
    """Interval from the first to the second pitch [cents]."""
    return 1200.0 * math.log2(other_hz / pitch_hz)


def friction_cents(friction: float, turn_deg: float) -> float:
    """Bound of the afterlength's pitch by friction over the bridge: T ratio exp(m theta) (capstan) [cents].

    friction : coefficient m, no source; turn_deg : 180 less the break angle.
    """
    return 600.0 * friction * math.radians(turn_deg) / math.log(2.0)


def tail_move(
    afterlength_mm: float, wished_mm: float, gap_mm: float | None = None, knot_mm: float = 0.0
) -> TailMove:
    """How far the tailpiece moves and how much longer its cord's loop becomes (twice the move, both legs).

    Parameters
    ----------
    afterlength_mm, wished_mm : now and wished [mm]; gap_mm : tailpiece to saddle now; knot_mm : what knot and
    stretch add to the loop under tension, from the shop's own log.
    """
    move = wished_mm - afterlength_mm
    return TailMove(move, -2.0 * move - knot_mm, None if gap_mm is None else gap_mm - move)
