"""Rings of a bridge from a file of ours or of a drawing program: CSV, DXF, SVG, in millimetres."""

import csv
import io
import math
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from purfling.craft.bridge.rings import Rings, checked_rings, signed_area
from purfling.craft.refusals import Refusal
from purfling.slips.reader import decode, read_bytes

Points = NDArray[np.float64]
HEADER = ["ring", "x_mm", "y_mm"]


def read_rings(path: Path) -> Rings:
    """The rings of a file; CSV as it stands, a drawing with its lowest points on the foot line.

    Raises
    ------
    Refusal
        No file, no drawing of rings, or rings that no bridge can have.
    """
    data = read_bytes(path)
    kind = path.suffix.lower()
    if kind == ".csv":
        return _ordered(rings_from_csv(decode(data, path.name), path.name))
    if kind == ".dxf":
        from purfling.slips.rings_dxf import rings_from_dxf

        return placed_rings(rings_from_dxf(data, path.name), path.name)
    if kind == ".svg":
        from purfling.slips.rings_svg import rings_from_svg

        return placed_rings(rings_from_svg(decode(data, path.name), path.name), path.name)
    raise Refusal("bridge.unknown_drawing", path=path.name)


def rings_from_csv(text: str, name: str) -> list[Points]:
    """Rings from CSV with the header ``ring,x_mm,y_mm``; ring 0 is the outline, further rings are holes."""
    rows = list(csv.reader(io.StringIO(text)))
    if not rows or [c.strip() for c in rows[0]] != HEADER:
        raise Refusal("bridge.bad_header", path=name, header=",".join(HEADER))
    found: dict[int, list[tuple[float, float]]] = {}
    for line, row in enumerate(rows[1:], 2):
        if not any(c.strip() for c in row):
            continue
        try:
            number, x, y = int(row[0]), float(row[1]), float(row[2])
        except (ValueError, IndexError) as wrong:
            raise Refusal("bridge.bad_row", path=name, line=line) from wrong
        if len(row) != 3 or not (math.isfinite(x) and math.isfinite(y)) or not 0 <= number <= 99:
            raise Refusal("bridge.bad_row", path=name, line=line)
        found.setdefault(number, []).append((x, y))
    if 0 not in found:
        raise Refusal("bridge.no_outline", path=name)
    return [np.array(found[k], dtype=float) for k in sorted(found)]


def _ordered(rings: list[Points]) -> Rings:
    return checked_rings(rings[0], tuple(rings[1:]))


def placed_rings(rings: list[Points], name: str) -> Rings:
    """Rings of a drawing: the largest is the outline; its lowest points become the foot line y = 0, and the
    middle between its outermost standing points x = 0."""
    rings = [r for r in rings if len(r) >= 3]
    if not rings:
        raise Refusal("bridge.no_drawing", path=name)
    order = sorted(rings, key=lambda r: -abs(signed_area(r)))
    low = float(order[0][:, 1].min())
    feet = order[0][order[0][:, 1] <= low + 0.05, 0]
    origin = np.array([(feet.min() + feet.max()) / 2, low])
    return _ordered([r - origin for r in order])


def rings_to_csv(rings: Rings) -> str:
    """CSV that ``rings_from_csv`` reads back, 0.1 um."""
    lines = [",".join(HEADER)]
    for number, ring in enumerate(rings.every):
        lines += [f"{number},{x:.4f},{y:.4f}" for x, y in ring + 0.0]
    return "\n".join(lines) + "\n"
