"""The wood of a bridge in its plane: orthotropic constants, their guard, the rotated stiffness."""

import math
import tomllib
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Any

import numpy as np
from numpy.typing import NDArray

from purfling.craft.refusals import Refusal


@dataclass(frozen=True)
class Wood:
    """Plane-stress constants: ``EL_MPa`` along the grain, ``ER_MPa`` across it in the bridge's plane,
    ``GLR_MPa`` shear modulus, ``nuLR`` contraction across when pulled along; ``density_kg_m3``;
    ``grain_deg`` angle of the grain against the foot line (0 along it, 90 upright)."""

    EL_MPa: float
    ER_MPa: float
    GLR_MPa: float
    nuLR: float  # noqa: N815 - the key of the slip
    density_kg_m3: float
    grain_deg: float = 0.0


@cache
def bridge_table() -> dict[str, Any]:
    """The table bridge.toml: woods, outlines, thicknesses, meshes, cuts, lean."""
    text = (resources.files("purfling.craft.tables") / "bridge.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


def checked_wood(wood: Wood) -> Wood:
    """The wood, when a body of it can only gain energy by being strained.

    Raises
    ------
    Refusal
        A modulus or density not above zero; nuLR^2 >= EL / ER (strain energy would not be positive).
    """
    for name in ("EL_MPa", "ER_MPa", "GLR_MPa", "density_kg_m3"):
        value = getattr(wood, name)
        if not value > 0:
            raise Refusal("bridge.not_positive", field=f"wood.{name}", value=float(value))
    limit = math.sqrt(wood.EL_MPa / wood.ER_MPa)
    if not abs(wood.nuLR) < limit:
        raise Refusal("bridge.energy", field="wood.nuLR", value=float(wood.nuLR), limit=float(f"{limit:.3g}"))
    return wood


def compliance(wood: Wood) -> NDArray[np.float64]:
    """Strain from stress (xx, yy, xy engineering) in the bridge's axes [1/MPa], shape (3, 3)."""
    s = np.array(
        [
            [1 / wood.EL_MPa, -wood.nuLR / wood.EL_MPa, 0.0],
            [-wood.nuLR / wood.EL_MPa, 1 / wood.ER_MPa, 0.0],
            [0.0, 0.0, 1 / wood.GLR_MPa],
        ]
    )
    c, n = math.cos(math.radians(wood.grain_deg)), math.sin(math.radians(wood.grain_deg))
    # stress in the grain's axes from stress in the bridge's axes; strain goes back by the transpose
    turn = np.array([[c * c, n * n, 2 * n * c], [n * n, c * c, -2 * n * c], [-n * c, n * c, c * c - n * n]])
    return np.asarray(turn.T @ s @ turn)


def stiffness(wood: Wood) -> NDArray[np.float64]:
    """Stress from strain (xx, yy, xy engineering) in the bridge's axes [MPa], shape (3, 3)."""
    return np.asarray(np.linalg.inv(compliance(wood)))


def upright_modulus(wood: Wood) -> float:
    """Young's modulus [MPa] from the feet to the top: across the grain when the grain lies along."""
    return float(1 / compliance(wood)[1, 1])
