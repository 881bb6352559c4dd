"""Bridges the tests share."""

import numpy as np
import pytest

from purfling.craft.bridge.mesh import meshed
from purfling.craft.bridge.modes import Feet, Modes, Plate, plate, vibrated
from purfling.craft.bridge.outline import OutlineMeasures, drawn_outline
from purfling.craft.bridge.rings import Rings, checked_rings
from purfling.craft.bridge.thickness import thickness_by_rule
from purfling.craft.bridge.wood import Wood, bridge_table

MAPLE = Wood(13860.0, 1829.52, 1538.46, 0.424, 705.6)


def rectangle(width: float, height: float) -> Rings:
    """A rectangle standing on the foot line."""
    half = width / 2
    return checked_rings(np.array([[-half, 0], [half, 0], [half, height], [-half, height]], dtype=float))


def measures(family: str = "violin") -> OutlineMeasures:
    """The measures of our drawing."""
    return OutlineMeasures(**bridge_table()["outline"][family])


def bridge_plate(
    rings: Rings,
    wood: Wood = MAPLE,
    foot: float = 4.3,
    top: float = 1.3,
    feet: Feet | None = None,
    boundary: float = 0.4,
    inside: float = 1.2,
) -> Plate:
    """A bridge ready to vibrate."""
    thickness = thickness_by_rule(rings, foot, top)
    return plate(meshed(rings, boundary, inside), wood, thickness, feet or Feet())


@pytest.fixture(scope="session")
def violin() -> tuple[Rings, Plate, Modes]:
    """Our violin bridge with its modes."""
    rings = drawn_outline(measures())
    bridge = bridge_plate(rings)
    return rings, bridge, vibrated(bridge)
