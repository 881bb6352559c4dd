"""Scroll and pegbox from four sides, neck and board: of our own drawing, grown and shrunk with the object."""

import math
from dataclasses import replace

from purfling.drawing.drawings.outline_curves import (
    EDGE,
    FINE,
    GHOST,
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
from purfling.drawing.shapes import Item, Path, Point

# Heads [mm], from the nut; boards: length, width at the nut and at the end. Common practice, no source.
HEAD = {"violin": 107.0, "viola": 122.0, "cello": 205.0}
BOARD = {"violin": (270.0, 24.0, 42.0), "viola": (300.0, 25.0, 46.0), "cello": (580.0, 31.0, 62.0)}
EYE = (0.0, 85.0)
PEGS = ((1.5, 13.0), (-2.0, 27.5), (-4.5, 42.5), (-8.0, 55.5))


def _radius(turn: float) -> float:
    """Radius of the volute [mm] at a turn [rad] from the back over the top to the front."""
    return (
        21.4 + 0.4 * turn / 1.5708 if turn < math.pi / 2 else 21.8 * math.exp(-0.108 * (turn - math.pi / 2))
    )


def _volute(begin: float, end: float, share: float = 1.0, n: int = 90) -> list[Point]:
    found = []
    for i in range(n + 1):
        turn = begin + (end - begin) * i / n
        r = _radius(turn) * share
        found.append((EYE[0] - r * math.cos(turn), EYE[1] + r * math.sin(turn)))
    return found


def _side_lines() -> list[Item]:
    """The head from its bass side, front to the right, the nut at y = 0."""
    low = math.pi * 1.5
    throat = _volute(low, low, n=1)[0]
    spine = curve(
        (-10.0, -9.0),
        [
            ((-17.0, -9.0), (-20.0, -4.0), (-19.6, 4.0)),
            ((-19.0, 20.0), (-22.5, 34.0), (-24.2, 50.0)),
            ((-25.4, 62.0), (-21.6, 72.0), (-21.4, 85.0)),
        ],
    )
    front = curve(
        throat, [((-7.0, 67.8), (-8.6, 62.0), (-4.6, 52.0)), ((-0.6, 40.0), (5.0, 18.0), (8.6, 4.5))]
    )
    nut = [(8.6, 4.5), (11.6, 4.2), (11.8, 0.0), (6.4, -1.0), (1.4, -10.0)]
    body = [*spine, *_volute(0.0, low)[1:], *front[1:], *nut[1:]]
    items: list[Item] = [shape(body, EDGE, "spruce")]
    items.append(line(_volute(low, math.pi * 4.55), EDGE))
    items.append(line(_volute(0.9, math.pi * 4.4, 0.925), HAIR))
    items.append(shape(ellipse(EYE[0] + 0.2, EYE[1] - 0.1, 3.5, 3.5), FINE, "paper"))
    items.append(shape(ellipse(EYE[0] + 0.2, EYE[1] - 0.1, 1.2, 1.2, 20), HAIR))
    inner = curve(
        (-17.4, 4.0),
        [((-17.0, 20.0), (-20.4, 34.0), (-22.0, 50.0)), ((-23.0, 62.0), (-19.6, 74.0), (-19.4, 85.0))],
    )
    items.append(line(inner, HAIR))
    for x, y in PEGS:
        items.append(shape(ellipse(x, y, 3.3, 3.3, 28), FINE, "paper"))
        items.append(shape(ellipse(x, y, 1.5, 1.5, 20), HAIR, "ink"))
    return items


def _turned(items: list[Item]) -> list[Item]:
    """Seen from the other side: x changes its sign."""
    return [
        replace(item, points=tuple((-x, y) for x, y in item.points))
        for item in items
        if isinstance(item, Path)
    ]


def _both(half: list[Point], fill: str = "spruce") -> Item:
    return shape([*half, *mirrored(half)], EDGE, fill)


def _front_lines() -> list[Item]:
    cheeks = curve(
        (0.0, 0.0),
        [
            ((4.0, 0.0), (8.0, 0.0), (12.4, 0.0)),
            ((12.0, 24.0), (8.6, 52.0), (8.2, 68.0)),
            ((6.0, 70.0), (3.0, 70.5), (0.0, 70.5)),
        ],
    )
    hole = curve(
        (0.0, 6.0),
        [
            ((3.0, 6.0), (5.0, 6.0), (7.6, 6.0)),
            ((7.0, 26.0), (4.6, 50.0), (3.9, 62.0)),
            ((3.0, 65.0), (1.5, 65.5), (0.0, 65.5)),
        ],
    )
    items: list[Item] = []
    for rx, y0, y1 in ((21.0, 80.4, 89.6), (16.6, 73.6, 96.4), (11.8, 66.8, 106.6)):
        items.append(shape(ellipse(0.0, (y0 + y1) / 2, rx, (y1 - y0) / 2, 60), EDGE, "spruce"))
    for x in (-17.6, 17.6):
        items.append(line(curve((x, 80.9), [((x * 1.06, 83.0), (x * 1.06, 87.0), (x, 89.1))]), HAIR))
    for side in (-1.0, 1.0):
        items.append(
            line(
                curve((side * 5.0, 69.0), [((side * 4.4, 80.0), (side * 4.6, 94.0), (side * 6.0, 105.2))]),
                FINE,
            )
        )
    items.append(line([(0.0, 69.0), (0.0, 106.4)], HAIR))
    items.append(_both(cheeks))
    items.append(_both(hole, "ink"))
    nut = [(-12.4, -0.4), (12.4, -0.4), (12.4, 4.4), (-12.4, 4.4)]
    items.append(shape(nut, FINE, "paper"))
    for i, (_, y) in enumerate(PEGS):
        w = 11.8 - 3.2 * y / 60
        items.append(line([(-w, y), (w, y)], HAIR))
        side = 1.0 if i % 2 else -1.0
        items.append(
            line(
                [
                    (side * w, y - 2.6),
                    (side * (w + 7), y - 2.6),
                    (side * (w + 7), y + 2.6),
                    (side * w, y + 2.6),
                ],
                GHOST,
            )
        )
    return items


def _back_lines() -> list[Item]:
    half = curve(
        (0.0, -13.0),
        [
            ((9.0, -13.0), (15.4, -7.0), (15.4, 2.0)),
            ((15.4, 22.0), (10.8, 40.0), (9.4, 60.0)),
            ((8.2, 76.0), (6.4, 92.0), (6.2, 107.0)),
            ((4.0, 107.4), (2.0, 107.4), (0.0, 107.4)),
        ],
    )
    items: list[Item] = []
    for rx, y0, y1 in ((21.0, 80.4, 89.6), (16.6, 73.6, 96.4), (11.8, 66.8, 106.6)):
        items.append(shape(ellipse(0.0, (y0 + y1) / 2, rx, (y1 - y0) / 2, 60), EDGE, "spruce"))
    items.append(_both(half))
    items.append(line([(0.0, -13.0), (0.0, 107.4)], FINE))
    for side in (-1.0, 1.0):
        flute = curve(
            (side * 13.6, -1.0),
            [
                ((side * 13.4, 22.0), (side * 9.0, 40.0), (side * 7.8, 60.0)),
                ((side * 6.8, 76.0), (side * 5.0, 92.0), (side * 4.8, 106.6)),
            ],
        )
        items.append(line(flute, HAIR))
        valley = curve((side * 6.6, -8.0), [((side * 6.4, 22.0), (side * 4.6, 50.0), (side * 2.9, 106.0))])
        items.append(line(valley, HAIR))
    return items


def _head(
    name: str, items: list[Item], box: tuple[float, float, float, float], scale: float, flip: bool = False
) -> View:
    x0, y0, x1, y1 = (value * scale for value in box)
    drawn = grown(items, scale)
    return View(name, (x0, y0, x1, y1), drawn, BoxWarp(x0, y0, x1 - x0, y1 - y0, flip), _outline(drawn))


def _outline(items: tuple[Item, ...]) -> tuple[tuple[Point, ...], ...]:
    """The closed lines drawn with the strong pen."""
    return tuple(
        (*i.points, i.points[0]) for i in items if isinstance(i, Path) and i.closed and len(i.points) > 30
    )


def head_views(s: ObjectShape) -> tuple[View, ...]:
    """The head from its four sides; u runs from back to front, or from bass to treble."""
    scale = (
        HEAD[s.family]
        / HEAD["violin"]
        * s.length
        / {"violin": 355.0, "viola": 410.0, "cello": 755.0}[s.family]
    )
    side, face = (-27.0, -15.0, 27.0, 109.0), (-22.0, -15.0, 22.0, 109.0)
    return (
        _head("scroll_bass", _side_lines(), side, scale),
        _head("scroll_front", _front_lines(), face, scale),
        _head("scroll_treble", _turned(_side_lines()), (-side[2], side[1], -side[0], side[3]), scale, True),
        _head("scroll_back", _back_lines(), face, scale, True),
    )


def neck_view(s: ObjectShape) -> View:
    """The board from above, the nut at the top, and the neck from its treble side beside it."""
    usual = {"violin": 355.0, "viola": 410.0, "cello": 755.0}[s.family]
    k = s.length / usual
    long, nut, end = (value * k for value in BOARD[s.family])
    board = [(-end / 2, 0.0), (end / 2, 0.0), (nut / 2, long), (-nut / 2, long)]
    items: list[Item] = [shape(board, EDGE, "spruce")]
    items.append(
        shape(
            [(-nut / 2, long), (nut / 2, long), (nut / 2, long * 1.02), (-nut / 2, long * 1.02)],
            FINE,
            "paper",
        )
    )
    for share in (-0.375, -0.125, 0.125, 0.375):
        items.append(line([(share * end, 0.0), (share * nut, long)], HAIR))
    root = long * 0.52  # where the body's edge crosses the board: common practice, no source
    items.append(line([(-end / 2 * 1.25, root), (end / 2 * 1.25, root)], GHOST))
    x = end * 0.95
    thick, deep = nut * 0.2, nut * 0.56
    heel = curve(
        (x, long),
        [
            ((x + deep, long + 1), (x + deep, long - 6 * k), (x + deep, long - 12 * k)),
            (
                (x + deep * 1.02, root + 60 * k),
                (x + deep * 1.05, root + 30 * k),
                (x + deep * 1.15, root + 18 * k),
            ),
            ((x + deep * 1.3, root + 8 * k), (x + deep * 2.2, root + 7 * k), (x + deep * 2.6, root + 5 * k)),
        ],
    )
    profile = [(x, 0.0), (x, long), *heel[1:], (x + deep * 2.6, root), (x + thick, root), (x + thick, 0.0)]
    items.append(shape(profile, EDGE, "spruce"))
    items.append(line([(x + thick, root), (x + thick, long)], FINE))
    box = (-end * 0.64, -2.0 * k, x + deep * 2.7, long * 1.03)
    warp = BoxWarp(box[0], box[1], box[2] - box[0], box[3] - box[1])
    return View(
        "neck_board", box, tuple(items), warp, ((*tuple(board), board[0]), (*tuple(profile), profile[0]))
    )
