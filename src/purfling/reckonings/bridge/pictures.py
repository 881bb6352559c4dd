"""Pictures of a bridge: face with thickness, modes, bars of the cuts; and its rings as a drawing."""

import numpy as np

from purfling.craft.bridge.question import face_values
from purfling.drawing.drawings.bridge_cuts import bridge_cuts
from purfling.drawing.drawings.bridge_face import bridge_face, ring_paths
from purfling.drawing.drawings.bridge_modes import bridge_modes
from purfling.drawing.shapes import Drawing, Group
from purfling.reckonings.bridge.compute import BridgeCase
from purfling.reckonings.bridge.sentences import cut_name
from purfling.words import decimal, say

MOST_MODES = 4
EDGE_POINTS = 41


def _sign(language: str) -> str:
    return "," if language == "de" else "."


def face(case: BridgeCase, language: str = "en") -> Drawing:
    """Face and edge at 1:1 with lines of equal thickness."""
    q, mesh = case.asked.question, case.found.plate.mesh
    heights = np.linspace(0.0, q.rings.height, EDGE_POINTS)
    middle = face_values(q, np.column_stack([np.zeros(EDGE_POINTS), heights]))
    words = {key: say(f"bridge.{key}", language) for key in ("bass", "treble", "back", "front")}
    words["title"] = say("bridge.picture_face", language)
    return bridge_face(
        q.rings.every,
        mesh.points,
        mesh.triangles,
        face_values(q, mesh.points),
        np.column_stack([heights, middle]),
        case.found.masses[0].centre_mm,
        case.found.waist.height_mm if case.found.waist else None,
        words,
        _sign(language),
    )


def moving(case: BridgeCase, language: str = "en") -> Drawing:
    """The shapes of the named modes, without frequencies until one was measured."""
    found, scale = case.found, case.answer.results["scale"]
    mesh, modes, n = found.plate.mesh, found.modes, found.plate.net.count
    order = sorted(range(len(modes.kinds)), key=lambda k: (modes.kinds[k] == "other", k))[:MOST_MODES]
    order.sort()
    shapes, captions = [], []
    for k in order:
        shape = modes.shapes[:, k]
        shapes.append([np.column_stack([shape[loop], shape[n + loop]]) for loop in mesh.loops])
        small = say("bridge.share", language, value=decimal(modes.participation(k), 2, language))
        if scale is not None:
            small = f"{decimal(scale * float(modes.hz[k]), 0, language)} Hz, {small}"
        captions.append((say(f"bridge.kind_{modes.kinds[k]}", language), small))
    rings = [mesh.points[loop] for loop in mesh.loops]
    return bridge_modes(rings, shapes, captions, say("bridge.picture_modes", language))


def bars(case: BridgeCase, language: str = "en") -> Drawing | None:
    """Bars of the cuts, or None without cuts."""
    cuts = case.answer.results["cuts"]
    if not cuts:
        return None
    rows = [(cut_name(c, language), c["rocking_percent"], c["bouncing_percent"]) for c in cuts]
    heads = (say("bridge.kind_rocking", language), say("bridge.kind_bouncing", language))
    return bridge_cuts(rows, heads, say("bridge.picture_cuts", language), _sign(language))


def outline(case: BridgeCase) -> Drawing:
    """The rings alone at 1:1, foot line on y = 0, for DXF."""
    rings = case.asked.question.rings
    low, high = float(rings.outer[:, 0].min()), float(rings.outer[:, 0].max())
    items = ring_paths(rings.every, 0.0, 0.0, fill=False)
    return Drawing(high - low, rings.height, (Group("rings", tuple(items)),), "rings")
