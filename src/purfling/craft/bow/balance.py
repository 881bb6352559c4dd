"""Weight and balance: the datums, the bow as a sum of bodies, two scales, the pendulum."""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from purfling.craft.refusals import Refusal

Datum = Literal["frog_front", "stick_end", "button", "ferrule"]
DATUMS: tuple[Datum, ...] = ("frog_front", "stick_end", "button", "ferrule")
GRAVITY = 9.81  # m/s2, middle latitudes


@dataclass(frozen=True)
class Datums:
    """Where the zeros of a balance lie on the bow.

    Parameters
    ----------
    frog_length_mm : float or None
        From the stick's end to the frog's front.
    button_length_mm : float or None
        From the button's end to the stick's end.
    ferrule_ahead_mm : float
        How far the ferrule's front lies ahead of the frog's front, towards the head.
    """

    frog_length_mm: float | None
    button_length_mm: float | None
    ferrule_ahead_mm: float = 0.0

    def place_mm(self, datum: Datum) -> float | None:
        """Place of a datum from the stick's end towards the head [mm], or None where a length is missing.

        Equation: stick_end = frog_front + frog_length, button = stick_end + button_length (as balances).
        """
        if datum == "stick_end":
            return 0.0
        if datum == "button":
            return None if self.button_length_mm is None else -self.button_length_mm
        if self.frog_length_mm is None:
            return None
        return self.frog_length_mm + (self.ferrule_ahead_mm if datum == "ferrule" else 0.0)

    def from_stick_end(self, value: float, datum: Datum) -> float | None:
        """A balance [mm] read from a datum, from the stick's end; None where a length is missing."""
        place = self.place_mm(datum)
        return None if place is None else value + place

    def read_from(self, at_mm: float) -> dict[str, float | None]:
        """A place from the stick's end [mm], as every datum reads it; None where a length is missing."""
        places = {datum: self.place_mm(datum) for datum in DATUMS}
        return {datum: None if place is None else at_mm - place for datum, place in places.items()}


@dataclass(frozen=True)
class Body:
    """A piece of a bow: mass [g], place of its centre from the stick's end [mm], own length [mm]."""

    name: str
    mass_g: float
    at_mm: float
    length_mm: float = 0.0

    def inertia(self, about_mm: float) -> float:
        """Moment of inertia about a place on the stick [kg m2]; a rod of its length and mass."""
        own = self.mass_g * self.length_mm**2 / 12.0
        return (own + self.mass_g * (self.at_mm - about_mm) ** 2) * 1e-9


@dataclass(frozen=True)
class WholeBow:
    """A bow as one mass [g] at its balance, from the stick's end [mm]."""

    mass_g: float
    at_mm: float


def together(bodies: Iterable[Body | WholeBow]) -> WholeBow:
    """Mass and centre of some bodies. Equation: m = sum m_i, xc = sum m_i x_i / m.

    Raises
    ------
    Refusal
        The masses add up to nothing.
    """
    rows = [(b.mass_g, b.at_mm) for b in bodies]
    mass = math.fsum(m for m, _ in rows)
    if mass <= 0:
        raise Refusal("bow.no_mass_left", value=f"{mass:.4g}")
    return WholeBow(mass, math.fsum(m * x for m, x in rows) / mass)


def without(bow: WholeBow, body: Body) -> WholeBow:
    """A bow with a body taken off."""
    return together([bow, Body(body.name, -body.mass_g, body.at_mm)])


def two_scales(near_g: float, far_g: float, near_mm: float, span_mm: float) -> WholeBow:
    """A bow lying on two scales.

    Parameters
    ----------
    near_g, far_g : float
        What the scale near the button and the far scale show [g].
    near_mm, span_mm : float
        Place of the near support from the stick's end, and from it to the far support [mm].

    Equation: xc = near + span F2 / (F1 + F2). Reference: lever.
    """
    return WholeBow(near_g + far_g, near_mm + span_mm * far_g / (near_g + far_g))


def pendulum_inertia(mass_g: float, arm_mm: float, period_s: float, gravity: float = GRAVITY) -> float:
    """Moment of inertia about the pivot of a small swing [kg m2].

    Parameters
    ----------
    mass_g, arm_mm : float
        Mass [g] and distance of the balance from the pivot [mm].
    period_s : float
        Time of a full swing to and fro [s].
    gravity : float
        [m/s2].

    Equation: I = T^2 m g d / (4 pi^2). Validity: swings of a few degrees.
    """
    return period_s**2 * (mass_g * 1e-3) * gravity * (arm_mm * 1e-3) / (4.0 * math.pi**2)


def moved_inertia(inertia: float, bow: WholeBow, from_mm: float, about_mm: float) -> float:
    """A moment of inertia [kg m2] about one place, about another place on the stick (parallel axes)."""
    centre = inertia - bow.mass_g * (bow.at_mm - from_mm) ** 2 * 1e-9
    return centre + bow.mass_g * (bow.at_mm - about_mm) ** 2 * 1e-9


def changed_errors(
    bow: WholeBow, added: Iterable[tuple[float, float, float]], mass_error_g: float, balance_error_mm: float
) -> tuple[float, float]:
    """One standard deviation of mass [g] and balance [mm] of a changed bow, first order.

    Parameters
    ----------
    bow : WholeBow
        The bow as found.
    added : iterable of (mass, place, error of the mass)
        What is put on (negative: taken off) [g, mm, g].
    mass_error_g, balance_error_mm : float
        Errors of the bow's own weighing.

    Equation: x' = (M x + sum m_i x_i) / M'; dx'/dM = (x - x') / M', dx'/dx = M / M',
    dx'/dm_i = (x_i - x') / M'.
    """
    rows = list(added)
    new = together([bow, *(Body("", m, x) for m, x, _ in rows)])
    mass = math.hypot(mass_error_g, *(e for _, _, e in rows))
    balance = math.hypot(
        (bow.at_mm - new.at_mm) / new.mass_g * mass_error_g,
        bow.mass_g / new.mass_g * balance_error_mm,
        *((x - new.at_mm) / new.mass_g * e for _, x, e in rows),
    )
    return mass, balance
