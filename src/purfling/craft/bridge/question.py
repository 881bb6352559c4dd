"""The whole question about a bridge and its whole answer."""

import hashlib
import math
from dataclasses import astuple, dataclass

import numpy as np
from numpy.typing import NDArray

from purfling.craft.bridge.cuts import CutEffect, Progress, Weights, effects, weights
from purfling.craft.bridge.lean import LeanAnswer, LeanLimits, LeanLoad, column_of, leaned
from purfling.craft.bridge.mesh import meshed
from purfling.craft.bridge.modes import Feet, Modes, Plate, plate, vibrated
from purfling.craft.bridge.places import Waist, crown_run, waist_of
from purfling.craft.bridge.rings import Rings
from purfling.craft.bridge.shaving import Cut
from purfling.craft.bridge.thickness import Thickness
from purfling.craft.bridge.wood import Wood, upright_modulus


@dataclass(frozen=True)
class MeasuredTaps:
    """What was measured on the bridge itself, feet held: ``rocking_hz``, ``bouncing_hz``; ``taps_hz``
    several taps of the rocking mode; ``added_mass_mg`` at the top and ``loaded_hz`` with it;
    ``weighed_g``."""

    rocking_hz: float | None = None
    taps_hz: tuple[float, ...] = ()
    bouncing_hz: float | None = None
    added_mass_mg: float | None = None
    loaded_hz: float | None = None
    weighed_g: float | None = None


@dataclass(frozen=True, eq=False)
class BridgeQuestion:
    """Everything the bridge is computed from: ``rings``, ``thickness``, ``wood``, ``feet``, mesh edges
    ``boundary_mm`` and ``inside_mm``, ``cuts``, ``load`` and ``limits`` of the lean, ``measured``."""

    rings: Rings
    thickness: Thickness
    wood: Wood
    feet: Feet
    boundary_mm: float
    inside_mm: float
    cuts: tuple[Cut, ...]
    load: LeanLoad
    limits: LeanLimits
    measured: MeasuredTaps

    @property
    def content(self) -> str:
        """A digest of all that the answer depends on: same content, same answer."""
        h = hashlib.sha256()
        t = self.thickness
        for array in (*self.rings.every, t.crown_x_mm, t.crown_y_mm):
            h.update(np.ascontiguousarray(array).tobytes() + b"|")
        plain = (
            (t.foot_mm, t.top_mm, t.rule, t.bulge_mm, t.stations),
            *[astuple(part) for part in (self.wood, self.feet, self.load, self.limits, self.measured)],
            *[astuple(cut) for cut in self.cuts],
            (self.boundary_mm, self.inside_mm),
        )
        h.update(repr(plain).encode())
        return h.hexdigest()


@dataclass(frozen=True, eq=False)
class BridgeAnswer:
    """What was found: ``masses`` (whole, above, below the ``waist``), the ``plate`` and its ``modes``, the
    ``effects`` of the cuts and the ``absent`` cuts, the ``lean``, ``top_mass_g`` effective mass of the
    rocking mode at the middle of the crown (None without one)."""

    masses: Weights
    waist: Waist | None
    plate: Plate
    modes: Modes
    effects: tuple[CutEffect, ...]
    absent: tuple[Cut, ...]
    lean: LeanAnswer
    top_mass_g: float | None


def effective_top_mass(bridge: Plate, modes: Modes) -> float | None:
    """Effective mass [g] of the rocking mode for a small mass at the highest point of the crown: 1 /
    v_x^2."""
    number = modes.number("rocking")
    if number is None:
        return None
    loop = bridge.mesh.loops[0]
    ring = bridge.mesh.points[loop]
    run = crown_run(ring)
    top = loop[run[int(np.argmax(ring[run, 1]))]]
    at = float(modes.shapes[top, number])
    return 1e6 / at**2 if at != 0 else None


def answered(question: BridgeQuestion, progress: Progress | None = None) -> BridgeAnswer:
    """Compute a bridge: mass, modes, cuts, lean.

    Raises
    ------
    Refusal
        No mesh of use, or a cut deeper than the wood there; all else was looked at before.
    """
    q = question
    waist = waist_of(q.rings)
    height = waist.height_mm if waist else None
    masses = weights(q.rings, q.thickness, q.wood.density_kg_m3, height)
    lean = leaned(column_of(q.rings, q.thickness), q.thickness, upright_modulus(q.wood), q.load, q.limits)
    bridge = plate(meshed(q.rings, q.boundary_mm, q.inside_mm), q.wood, q.thickness, q.feet)
    modes = vibrated(bridge)
    found, absent = effects(bridge, modes, q.rings, q.cuts, height, progress)
    return BridgeAnswer(
        masses, waist, bridge, modes, tuple(found), tuple(absent), lean, effective_top_mass(bridge, modes)
    )


def scale_of(answer: BridgeAnswer, measured_hz: float | None) -> float | None:
    """Measured over computed rocking frequency, or None without both."""
    number = answer.modes.number("rocking")
    if measured_hz is None or number is None:
        return None
    return measured_hz / float(answer.modes.hz[number])


def goes_to_straighten(rings: Rings, back_deg: float, step_mm: float) -> tuple[float, int]:
    """How far the top must go [mm, positive towards the tailpiece] and in how many goes of at most
    ``step_mm``."""
    travel = rings.height * math.tan(math.radians(back_deg))
    return travel, math.ceil(abs(travel) / step_mm - 1e-9)


def face_values(question: BridgeQuestion, points: NDArray[np.float64]) -> NDArray[np.float64]:
    """Thickness [mm] at points of the face (n, 2), for pictures."""
    return question.thickness.at(points[:, 0], points[:, 1])
