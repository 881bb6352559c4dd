"""Pressing a string down: the force of the finger and how sharp the note becomes."""

import math

import numpy as np

from purfling.craft.geometry import Array

CENTS = 1200.0 / math.log(2.0)  # cents per unit of natural logarithm: 1731.234


def finger_force_n(
    tension_n: float, string_length_mm: float, stop_mm: Array | float, press_mm: Array | float
) -> Array:
    """Least force of a finger that holds the string down, T (delta/s1 + delta/s2) [N].

    Parameters
    ----------
    tension_n : tension [N]; string_length_mm : L [mm]; stop_mm : a, finger from the nut [mm];
    press_mm : delta, way of the open string down to the board there [mm].

    Statics, exact for the tension given. A lower bound: players press harder.
    """
    a = np.asarray(stop_mm, dtype=np.float64)
    d = np.asarray(press_mm, dtype=np.float64)
    b = string_length_mm - a
    return np.asarray(tension_n * (d / np.hypot(a, d) + d / np.hypot(b, d)))


def pressed_tension_n(
    tension_n: float,
    axial_stiffness_n: float,
    string_length_mm: float,
    elastic_length_mm: float,
    stop_mm: Array | float,
    press_mm: Array | float,
) -> Array:
    """Tension of the pressed string, T + EA dL / Le, dL = hypot(a, delta) + hypot(L - a, delta) - L [N]."""
    a = np.asarray(stop_mm, dtype=np.float64)
    d = np.asarray(press_mm, dtype=np.float64)
    longer = np.hypot(a, d) + np.hypot(string_length_mm - a, d) - string_length_mm
    return np.asarray(tension_n + axial_stiffness_n * longer / elastic_length_mm)


def press_cents(
    tension_n: float,
    axial_stiffness_n: float,
    string_length_mm: float,
    elastic_length_mm: float,
    stop_mm: Array | float,
    press_mm: Array | float,
    inharmonicity: float = 0.0,
) -> Array:
    """How sharp a stopped note sounds by the stretch of pressing it down [cents].

    Parameters
    ----------
    axial_stiffness_n : EA [N]; elastic_length_mm : Le, the length that stretches: L, or L and the afterlength
    when the string slides over the bridge (the two bounds); inharmonicity : B of the open string.

    f = (1/(2 s2)) sqrt(T'/mu') sqrt(1 + B' ), against the ideal stop (1/(2 b)) sqrt(T/mu) sqrt(1 + B), with
    mu' = mu (1 - dL/Le). Valid for delta / a < 0.05. Reference: stretch model after Varieschi and Gower
    (2009) and Grimes (2014), abstracts read, tables not.
    """
    a = np.asarray(stop_mm, dtype=np.float64)
    d = np.asarray(press_mm, dtype=np.float64)
    b = string_length_mm - a
    longer = np.hypot(a, d) + np.hypot(b, d) - string_length_mm
    pressed = tension_n + axial_stiffness_n * longer / elastic_length_mm
    mass = 1.0 - longer / elastic_length_mm
    reach = np.hypot(b, d)
    stiff = inharmonicity * string_length_mm**2 * tension_n
    here = 1.0 + stiff / (pressed * reach**2)
    open_ = 1.0 + inharmonicity
    ratio = b / reach * np.sqrt(pressed / tension_n / mass) * np.sqrt(here / open_)
    return np.asarray(CENTS * np.log(ratio))


def axial_stiffness_n(
    tension_n: float, turned_mm: float, heard_cents: float, elastic_length_mm: float
) -> float:
    """EA of a string from its fine tuner [N].

    Turned by dl it rises dc cents: EA/Le = T (exp(2 dc / 1731.23) - 1) / dl.
    """
    return tension_n * (math.exp(2.0 * heard_cents / CENTS) - 1.0) / turned_mm * elastic_length_mm
