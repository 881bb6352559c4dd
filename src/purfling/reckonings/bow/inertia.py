"""How heavy a bow turns in the hand: by the pendulum, or summed from its pieces."""

import math
from dataclasses import dataclass

from purfling.craft.bow.balance import Body, WholeBow, moved_inertia, pendulum_inertia, together
from purfling.craft.bow.stick import Solid, law_stick, solid
from purfling.craft.bow.taper import REACH_MM
from purfling.craft.refusals import Refusal
from purfling.craft.result import Note
from purfling.slips.reader import Slip

ROD = math.sqrt(12.0)  # length of a rod over its radius of gyration
REST_AGREES_G = 1.0


@dataclass(frozen=True)
class Turning:
    """``inertia_kg_m2`` about the hand, how it was found, and what was said."""

    inertia_kg_m2: float | None
    how: str
    notes: tuple[Note, ...] = ()


def stick_body(shape: Solid, mass_g: float) -> Body:
    """A stick as a rod of the same mass, centre and inertia."""
    return Body("stick", mass_g, shape.centre_mm, shape.gyration_mm * ROD)


def _swung(slip: Slip, bow: WholeBow, hand: float) -> Turning:
    view = slip.table("pendulum")
    pivot, period = view.need_number("pivot_mm"), view.need_number("period_s")
    about_pivot = pendulum_inertia(bow.mass_g, abs(bow.at_mm - pivot), period)
    if about_pivot < bow.mass_g * (bow.at_mm - pivot) ** 2 * 1e-9:
        least = 2 * math.pi * math.sqrt(abs(bow.at_mm - pivot) * 1e-3 / 9.81)
        raise Refusal("bow.swing_too_fast", field=view.path("period_s"), value=period, limit=f"{least:.3f}")
    return Turning(moved_inertia(about_pivot, bow, pivot, hand), "pendulum")


def turning(slip: Slip, bow: WholeBow, pieces: list[Body], hand: float | None) -> Turning:
    """Inertia about the hand [kg m2].

    Parameters
    ----------
    slip : Slip
        For its [pendulum].
    bow : WholeBow
        The whole bow.
    pieces : list of Body
        What is known of it: parts, stick, hair.
    hand : float or None
        Place of the hand from the stick's end [mm].

    The pendulum leads. Without it the pieces are summed; what they leave of the whole is taken as a stick by
    the law of 1856 where no stick is known (an estimate), else as a point at its own balance.
    """
    if hand is None:
        return Turning(None, "no hand", (Note("bow.no_hand"),))
    if slip.has("pendulum"):
        return _swung(slip, bow, hand)
    own = sum(b.inertia(hand) for b in pieces)
    known = sum(b.mass_g for b in pieces)
    rest = bow.mass_g - known
    if rest < 0.05:
        return Turning(own, "parts")
    left = together([bow, *(Body(b.name, -b.mass_g, b.at_mm) for b in pieces)])
    if any(b.name == "stick" for b in pieces):
        notes = (Note("bow.rest", {"mass": rest, "at": left.at_mm}),) if rest > REST_AGREES_G else ()
        return Turning(own + Body("rest", rest, left.at_mm).inertia(hand), "parts", notes)
    shape = solid(law_stick(REACH_MM))
    spread = Body("rest", rest, left.at_mm, shape.gyration_mm * ROD)
    return Turning(own + spread.inertia(hand), "estimate", (Note("bow.inertia_estimated"),))
