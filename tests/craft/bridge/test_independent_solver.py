"""The modes against an independent solver (Debian's calculix-ccx) on the very same mesh.

Through-thickness Poisson ratios are all but zero there, as plane stress asks of its expanded elements.
"""

import shutil
import subprocess
from pathlib import Path

import numpy as np
import pytest

from purfling.craft.bridge.elements import node_points, sole_sides
from purfling.craft.bridge.mesh import meshed
from purfling.craft.bridge.modes import Feet, Plate, plate, vibrated
from purfling.craft.bridge.outline import drawn_outline
from purfling.craft.bridge.thickness import thickness_by_rule
from tests.craft.bridge.conftest import MAPLE, measures

pytestmark = pytest.mark.full
COUNT = 6


def solver() -> str:
    """The program; its absence is a failure that says so, never a pass."""
    found = shutil.which("ccx")
    if found is None:
        pytest.fail(
            "NOT RUN: the independent solver is missing; tools/system_packages.sh installs calculix-ccx"
        )
    return found


def deck(bridge: Plate) -> str:
    """The bridge as an input deck: six-node plane stress with a thickness at every node, N-mm-tonne."""
    at = node_points(bridge.mesh.points, bridge.net)
    h = bridge.thickness.at(at[:, 0], at[:, 1])
    w = bridge.wood
    lines = ["*NODE, NSET=NALL"]
    lines += [f"{k}, {x:.9f}, {y:.9f}, 0." for k, (x, y) in enumerate(at, 1)]
    lines.append("*ELEMENT, TYPE=CPS6, ELSET=EALL")
    lines += [", ".join(str(v) for v in [e, *(row + 1)]) for e, row in enumerate(bridge.net.nodes, 1)]
    lines += [
        "*MATERIAL, NAME=WOOD",
        "*ELASTIC, TYPE=ENGINEERING CONSTANTS",
        f"{w.EL_MPa}, {w.ER_MPa}, {w.ER_MPa}, {w.nuLR}, 1e-6, 1e-6, {w.GLR_MPa}, {w.GLR_MPa}",
        f"{w.GLR_MPa}",
        "*DENSITY",
        f"{w.density_kg_m3 * 1e-12:.6e}",
        "*SOLID SECTION, ELSET=EALL, MATERIAL=WOOD, NODAL THICKNESS",
        "1.",
        "*NODAL THICKNESS",
    ]
    lines += [f"{k}, {t:.9f}" for k, t in enumerate(h, 1)]
    lines.append("*BOUNDARY")
    lines += [f"{k + 1}, 1, 2" for k in np.unique(sole_sides(bridge.mesh, bridge.net))]
    lines += ["*STEP", "*FREQUENCY", str(COUNT), "*END STEP"]
    return "\n".join(lines) + "\n"


def solved(folder: Path, bridge: Plate) -> list[float]:
    """Frequencies [Hz] of the independent solver."""
    program = solver()
    (folder / "bridge.inp").write_text(deck(bridge), encoding="ascii")
    done = subprocess.run(
        [program, "bridge"], cwd=folder, capture_output=True, text=True, check=False, timeout=600
    )
    text = (folder / "bridge.dat").read_text(encoding="ascii") if (folder / "bridge.dat").exists() else ""
    rows = [line.split() for line in text.splitlines()]
    found = [float(row[3]) for row in rows if len(row) == 5 and row[0].isdigit()]
    assert len(found) >= COUNT, f"the independent solver gave no frequencies: {done.stdout[-500:]}"
    return found[:COUNT]


@pytest.mark.parametrize(
    ("family", "foot", "top", "edge"), [("violin", 4.3, 1.3, 0.6), ("cello", 11.0, 2.5, 1.4)]
)
def test_same_mesh_sounds_the_same_in_an_independent_solver(
    tmp_path: Path, family: str, foot: float, top: float, edge: float
) -> None:
    rings = drawn_outline(measures(family))
    bridge = plate(meshed(rings, edge, 3 * edge), MAPLE, thickness_by_rule(rings, foot, top), Feet())
    theirs = solved(tmp_path, bridge)
    assert vibrated(bridge).hz[:COUNT] == pytest.approx(theirs, rel=5e-3)
