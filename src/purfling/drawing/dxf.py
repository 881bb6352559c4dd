"""Drawing -> DXF R2010 in millimetres ($INSUNITS 4); one layer per group; text bytes are repeatable."""

import io
from typing import Any

from purfling.drawing.shapes import Arc, Circle, Drawing, Group, Item, Line, Path, Rect, Text


def _add(space: Any, item: Item, layer: str) -> None:
    attribs = {"layer": layer}
    match item:
        case Line(x1, y1, x2, y2, _):
            space.add_line((x1, y1), (x2, y2), dxfattribs=attribs)
        case Path():
            space.add_lwpolyline(list(item.points), close=item.closed, dxfattribs=attribs)
        case Arc():
            space.add_arc((item.cx, item.cy), item.radius, item.start, item.end, dxfattribs=attribs)
        case Circle():
            space.add_circle((item.cx, item.cy), item.radius, dxfattribs=attribs)
        case Rect():
            x, y, w, h = item.x, item.y, item.width, item.height
            corners = [(x, y), (x + w, y), (x + w, y + h), (x, y + h)]
            space.add_lwpolyline(corners, close=True, dxfattribs=attribs)
        case Text():
            align = {"start": 0, "middle": 1, "end": 2}[item.anchor]
            space.add_text(
                item.text,
                height=item.size * 0.72,
                rotation=item.turn,
                dxfattribs={
                    **attribs,
                    "insert": (item.x, item.y),
                    "halign": align,
                    "align_point": (item.x, item.y),
                },
            )
        case Group(name, items):
            for inner in items:
                _add(space, inner, name)


def to_dxf(drawing: Drawing) -> bytes:
    """DXF bytes of a drawing at 1:1; the same drawing gives the same bytes."""
    import ezdxf

    ezdxf.options.write_fixed_meta_data_for_testing = True
    doc = ezdxf.new("R2010")
    doc.units = ezdxf.units.MM
    doc.header["$MEASUREMENT"] = 1
    for name in sorted({i.name for i in drawing.items if isinstance(i, Group)}):
        if name not in doc.layers:
            doc.layers.add(name)
    space = doc.modelspace()
    for item in drawing.items:
        _add(space, item, "0")
    stream = io.StringIO()
    doc.write(stream)
    return stream.getvalue().encode("utf-8")
