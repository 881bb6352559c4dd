"""Closed rings from a DXF: polylines, circles, ellipses, splines, and lines and arcs that join up."""

import io
from typing import Any

import numpy as np
from numpy.typing import NDArray

from purfling.craft.refusals import Refusal

Points = NDArray[np.float64]
FLATNESS = 0.005  # mm
JOIN = 0.02  # mm
CURVES = {"LINE", "ARC", "CIRCLE", "ELLIPSE", "SPLINE", "LWPOLYLINE", "POLYLINE"}
MM = {0: 1.0, 1: 25.4, 4: 1.0, 5: 10.0, 6: 1000.0, 9: 0.0254, 13: 0.001}
MOST_CURVES = 2000


def rings_from_dxf(data: bytes, name: str) -> list[Points]:
    """Closed rings [mm] of the model space; units from $INSUNITS, millimetres where it is not set.

    Raises
    ------
    Refusal
        No DXF, or nothing closed in it.
    """
    import ezdxf
    from ezdxf import recover
    from ezdxf.path import make_path

    try:
        document, _ = recover.read(io.BytesIO(data))
    except (OSError, ezdxf.DXFError, ValueError, KeyError, IndexError, AttributeError) as wrong:
        raise Refusal("bridge.no_drawing", path=name) from wrong
    unit = MM.get(int(document.header.get("$INSUNITS", 0)), 1.0)
    curves: list[Points] = []
    for entity in document.modelspace():
        if entity.dxftype() not in CURVES:
            continue
        if len(curves) >= MOST_CURVES:
            raise Refusal("bridge.too_many_curves", path=name, limit=MOST_CURVES)
        try:
            path: Any = make_path(entity)
            points = [(v.x * unit, v.y * unit) for v in path.flattening(FLATNESS / unit)]
        except (ValueError, TypeError, ezdxf.DXFError) as wrong:
            raise Refusal("bridge.no_drawing", path=name) from wrong
        if len(points) >= 2:
            curves.append(np.array(points, dtype=float))
    rings = joined(curves)
    if not rings:
        raise Refusal("bridge.no_drawing", path=name)
    return rings


def joined(curves: list[Points]) -> list[Points]:
    """Curves put end to end where their ends meet within 0.02 mm; what does not close is left out."""
    rings = [c for c in curves if _meets(c[0], c[-1]) and len(c) > 3]
    loose = [c for c in curves if not _meets(c[0], c[-1])]
    while loose:
        chain = loose.pop(0)
        grown = True
        while grown and not _meets(chain[0], chain[-1]):
            grown = False
            for k, other in enumerate(loose):
                if _meets(chain[-1], other[0]) or _meets(chain[-1], other[-1]):
                    way = other if _meets(chain[-1], other[0]) else other[::-1]
                    chain = np.vstack([chain, way[1:]])
                    loose.pop(k)
                    grown = True
                    break
        if _meets(chain[0], chain[-1]) and len(chain) > 3:
            rings.append(chain)
    return [r[:-1] for r in rings]


def _meets(a: Points, b: Points) -> bool:
    return bool(np.hypot(*(a - b)) <= JOIN)
