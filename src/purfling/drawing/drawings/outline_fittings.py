"""Fittings: bridge, tailpiece, chinrest, pegs and end button on one small board."""

from purfling.drawing.drawings.outline_curves import (
    EDGE,
    FINE,
    HAIR,
    BoxWarp,
    curve,
    ellipse,
    grown,
    line,
    mirrored,
    shape,
)
from purfling.drawing.drawings.outline_view import ObjectShape, View
from purfling.drawing.shapes import Item, Point

# Breadth of the little board in units of a usual violin [mm].
BOX = (0.0, 0.0, 112.0, 158.0)
SCALE = {"violin": 1.0, "viola": 1.13, "cello": 2.05}


def _at(points: list[Point], dx: float, dy: float) -> list[Point]:
    return [(x + dx, y + dy) for x, y in points]


def _bridge(dx: float, dy: float) -> list[Item]:
    half = curve(
        (0.0, 33.0),
        [
            ((8.0, 33.0), (14.0, 31.4), (17.6, 28.6)),
            ((16.4, 26.4), (14.0, 25.4), (14.4, 22.4)),
            ((15.0, 19.4), (21.4, 19.4), (21.0, 14.0)),
            ((20.6, 10.0), (16.0, 10.6), (16.6, 7.0)),
            ((17.0, 4.0), (20.6, 3.6), (20.6, 0.0)),
            ((16.0, 0.0), (12.0, 0.0), (8.6, 0.0)),
            ((8.6, 3.4), (10.4, 5.4), (8.0, 8.4)),
            ((5.0, 10.4), (2.0, 10.6), (0.0, 10.6)),
        ],
    )
    items: list[Item] = [shape(_at([*half, *mirrored(half)], dx, dy), EDGE, "spruce")]
    heart = curve(
        (0.0, 16.4), [((4.6, 19.0), (5.4, 24.0), (2.2, 25.0)), ((1.0, 25.2), (0.3, 24.4), (0.0, 23.4))]
    )
    items.append(shape(_at([*heart, *mirrored(heart)], dx, dy), FINE, "paper"))
    for side in (-1.0, 1.0):
        kidney = ellipse(side * 11.4, 14.8, 3.0, 3.8, 24)
        items.append(shape(_at(kidney, dx, dy), FINE, "paper"))
    return items


def _tailpiece(dx: float, dy: float) -> list[Item]:
    half = curve((0.0, 0.0), [((4.0, 0.0), (7.0, 0.4), (8.0, 3.0)), ((9.0, 30.0), (12.0, 62.0), (19.8, 98.0)),
                              ((20.4, 104.0), (12.0, 107.0), (0.0, 107.6))])  # fmt: skip
    items: list[Item] = [shape(_at([*half, *mirrored(half)], dx, dy), EDGE, "spruce")]
    items.append(line(_at([(-18.4, 93.0), (18.4, 93.0)], dx, dy), FINE))
    for x in (-13.0, -4.4, 4.4, 13.0):
        items.append(line(_at([(x, 82.0), (x, 90.5)], dx, dy), EDGE))
        items.append(shape(_at(ellipse(x, 81.0, 1.5, 1.5, 16), dx, dy), HAIR, "ink"))
    return items


def _chinrest(dx: float, dy: float) -> list[Item]:
    outer = curve(
        (0.0, 6.0),
        [
            ((-4.0, -6.0), (30.0, -8.0), (48.0, 4.0)),
            ((60.0, 14.0), (56.0, 36.0), (38.0, 39.0)),
            ((18.0, 42.0), (6.0, 28.0), (0.0, 6.0)),
        ],
    )
    inner = curve(
        (6.0, 8.0),
        [
            ((8.0, 0.0), (30.0, 0.0), (43.0, 8.0)),
            ((52.0, 16.0), (48.0, 32.0), (36.0, 34.0)),
            ((20.0, 36.0), (9.0, 25.0), (6.0, 8.0)),
        ],
    )
    return [shape(_at(outer, dx, dy), EDGE, "spruce"), line(_at(inner, dx, dy), HAIR)]


def _peg(dx: float, dy: float) -> list[Item]:
    items: list[Item] = [shape(_at(ellipse(6.5, 0.0, 6.5, 7.6, 36), dx, dy), EDGE, "spruce")]
    items.append(shape(_at([(13.0, -3.4), (15.4, -4.6), (15.4, 4.6), (13.0, 3.4)], dx, dy), FINE, "paper"))
    items.append(shape(_at([(15.4, -3.9), (52.0, -2.7), (52.0, 2.7), (15.4, 3.9)], dx, dy), FINE, "spruce"))
    items.append(shape(_at(ellipse(36.0, 0.0, 0.8, 0.8, 12), dx, dy), HAIR, "ink"))
    return items


def fittings_view(s: ObjectShape) -> View:
    """Bridge, tailpiece, chinrest (cello: end pin), four pegs from the lowest string, end button."""
    items: list[Item] = [*_tailpiece(24.0, 2.0), *_bridge(24.0, 120.0)]
    for i in range(4):
        items += _peg(56.0, 148.0 - 17.0 * i)
    if s.family == "cello":
        items.append(shape([(58.0, 30.0), (70.0, 28.0), (70.0, 48.0), (58.0, 46.0)], EDGE, "spruce"))
        items.append(
            shape([(70.0, 36.6), (108.0, 37.2), (111.0, 38.0), (108.0, 38.8), (70.0, 39.4)], FINE, "spruce")
        )
    else:
        items += _chinrest(54.0, 40.0)
        items.append(shape(ellipse(66.0, 16.0, 6.2, 6.2), EDGE, "spruce"))
        items.append(shape(ellipse(66.0, 16.0, 2.4, 2.4, 24), FINE, "paper"))
        items.append(shape([(80.0, 11.6), (90.0, 10.6), (90.0, 21.4), (80.0, 20.4)], FINE, "spruce"))
        items.append(shape([(90.0, 12.4), (108.0, 13.2), (108.0, 18.8), (90.0, 19.6)], FINE, "spruce"))
    scale = SCALE[s.family]
    x0, y0, x1, y1 = (value * scale for value in BOX)
    drawn = grown(items, scale)
    return View("fittings", (x0, y0, x1, y1), drawn, BoxWarp(x0, y0, x1 - x0, y1 - y0))
