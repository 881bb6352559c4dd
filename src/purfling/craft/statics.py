"""Plane statics of the bridge: what a string presses, and how the feet share it."""

import math
from collections.abc import Sequence


def string_forces(tension_n: float, nut_angle_deg: float, tail_angle_deg: float) -> tuple[float, float]:
    """Down force T (sin a + sin b) and force along the string T (cos a - cos b) of one string [N].

    Parameters
    ----------
    tension_n : tension [N]; nut_angle_deg, tail_angle_deg : angles of the two sides against the body plane.

    Returns
    -------
    (down, along) [N]; along positive pulls the bridge's top towards the board.
    """
    a, b = math.radians(nut_angle_deg), math.radians(tail_angle_deg)
    return tension_n * (math.sin(a) + math.sin(b)), tension_n * (math.cos(a) - math.cos(b))


def foot_loads(
    down_force_n: Sequence[float], lateral_mm: Sequence[float], foot_distance_mm: float
) -> tuple[float, float]:
    """(bass, treble) foot load [N] by the lever rule about foot centres at +- foot_distance / 2.

    treble = V/2 + sum(V_i y_i)/d, bass = V - treble. Plane and determinate: the sound post does not enter.
    Sideways forces are left out.
    """
    total = math.fsum(down_force_n)
    turning = math.fsum(v * y for v, y in zip(down_force_n, lateral_mm, strict=True))
    treble = total / 2 + turning / foot_distance_mm
    return total - treble, treble
