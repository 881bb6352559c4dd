"""Drawing -> SVG in millimetres: width, height and viewBox in mm, presentation attributes only."""

import math
import re
from xml.sax.saxutils import escape, quoteattr

from purfling.drawing.shapes import Arc, Circle, Drawing, Group, Item, Line, Path, Pen, Rect, Text

LIGHT = {
    "ink": "#1D1A16",
    "quiet": "#5B5146",
    "varnish": "#9A3F12",
    "water": "#1F5673",
    "moss": "#2F5D3A",
    "ochre": "#7A5200",
    "madder": "#9E1B32",
    "paper": "#FBF7EF",
    "spruce": "#F1E6CE",
    "none": "none",
}
BLACK_BAR = "#000000"
FONT = "DejaVu Sans"
_CONTROL = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f]")


def number(value: float) -> str:
    """A coordinate with at most 4 decimals (0.1 um), no trailing zeros."""
    text = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def _stroke(pen: Pen | None, colours: dict[str, str]) -> str:
    if pen is None:
        return ' stroke="none"'
    dash = f' stroke-dasharray="{" ".join(number(d) for d in pen.dash)}"' if pen.dash else ""
    return f' stroke="{colours[pen.colour]}" stroke-width="{number(pen.width)}"{dash}'


def _element(item: Item, height: float, colours: dict[str, str]) -> str:
    n = number
    match item:
        case Line(x1, y1, x2, y2, pen):
            return (
                f'<line x1="{n(x1)}" y1="{n(height - y1)}" x2="{n(x2)}" y2="{n(height - y2)}"'
                f"{_stroke(pen, colours)}/>"
            )
        case Path(points, pen, closed, fill, _):
            steps = " L".join(f"{n(x)} {n(height - y)}" for x, y in points)
            end = " Z" if closed else ""
            return f'<path d="M{steps}{end}" fill="{colours[fill]}"{_stroke(pen, colours)}/>'
        case Arc():
            return _arc(item, height, colours)
        case Circle(cx, cy, radius, pen, fill):
            return (
                f'<circle cx="{n(cx)}" cy="{n(height - cy)}" r="{n(radius)}" fill="{colours[fill]}"'
                f"{_stroke(pen, colours)}/>"
            )
        case Rect(x, y, w, h, pen, fill):
            solid = BLACK_BAR if pen is None and fill == "ink" else colours[fill]
            return (
                f'<rect x="{n(x)}" y="{n(height - y - h)}" width="{n(w)}" height="{n(h)}" fill="{solid}"'
                f"{_stroke(pen, colours)}/>"
            )
        case Text():
            return _text(item, height, colours)
        case Group(name, (Path() as only,)):
            path = _element(only, height, colours)
            return path.replace("<path ", f"<path id={quoteattr(name)} ", 1)
        case Group(name, items):
            inner = "".join(_element(i, height, colours) for i in items)
            return f"<g id={quoteattr(name)}>{inner}</g>"


def _arc(item: Arc, height: float, colours: dict[str, str]) -> str:
    n = number
    sweep = (item.end - item.start) % 360.0
    ends = [math.radians(item.start), math.radians(item.end)]
    (x1, y1), (x2, y2) = [
        (item.cx + item.radius * math.cos(a), height - item.cy - item.radius * math.sin(a)) for a in ends
    ]
    large = 1 if sweep > 180 else 0
    return (
        f'<path d="M{n(x1)} {n(y1)} A{n(item.radius)} {n(item.radius)} 0 {large} 0 {n(x2)} {n(y2)}"'
        f' fill="none"{_stroke(item.pen, colours)}/>'
    )


def _text(item: Text, height: float, colours: dict[str, str]) -> str:
    x, y = number(item.x), number(height - item.y)
    turn = f' transform="rotate({number(-item.turn)} {x} {y})"' if item.turn else ""
    weight = ' font-weight="bold"' if item.bold else ""
    clean = escape(_CONTROL.sub("", item.text))
    return (
        f'<text x="{x}" y="{y}" font-family="{FONT}" font-size="{number(item.size)}"{weight}'
        f' text-anchor="{item.anchor}" fill="{colours[item.colour]}"{turn}>{clean}</text>'
    )


def to_svg(drawing: Drawing, colours: dict[str, str] | None = None, scale: float = 1.0) -> str:
    """SVG text; ``scale`` multiplies the printed size (a printer's correction), not the coordinates."""
    palette = LIGHT if colours is None else colours
    body = "".join(_element(i, drawing.height, palette) + "\n" for i in drawing.items)
    w, h = number(drawing.width), number(drawing.height)
    title = f"<title>{escape(drawing.title)}</title>\n" if drawing.title else ""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{number(drawing.width * scale)}mm"'
        f' height="{number(drawing.height * scale)}mm" viewBox="0 0 {w} {h}" role="img">\n'
        f"{title}{body}</svg>\n"
    )
