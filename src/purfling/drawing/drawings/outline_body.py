"""Front, back, ribs and inside of a body, warped from one template to an instrument's own dimensions."""

from collections.abc import Sequence

from purfling.drawing.drawings.outline_curves import (
    EDGE,
    FINE,
    GHOST,
    HAIR,
    BodyWarp,
    RibWarp,
    curve,
    ellipse,
    joined,
    line,
    mirrored,
    offset,
    ribbon,
    shape,
)
from purfling.drawing.drawings.outline_view import ObjectShape, View
from purfling.drawing.shapes import Item, Pen, Point

# The template: half a plan of our own drawing in the millimetres of a usual violin, from the lower edge up.
LENGTH, UPPER, MIDDLE, LOWER, STOP = 355.0, 167.0, 110.0, 207.0, 195.0
CORNERS = (131.5 / LENGTH, 233.0 / LENGTH)
NICK = 1.0 - STOP / LENGTH
WIDEST = (72.0 / LENGTH, 188.0 / LENGTH, 289.0 / LENGTH)
LOWER_BOUT = curve(
    (0.0, 0.0),
    [
        ((58.0, 0.0), (103.5, 24.0), (103.5, 72.0)),
        ((103.5, 94.0), (94.5, 104.0), (91.0, 115.0)),
        ((89.6, 119.5), (90.6, 124.5), (94.6, 128.6)),
    ],
)
WAIST = curve(
    (91.6, 134.6),
    [((79.0, 132.5), (55.0, 150.0), (55.0, 188.0)), ((55.0, 210.0), (62.0, 228.5), (76.0, 229.6))],
)
UPPER_BOUT = curve(
    (79.2, 235.6),
    [
        ((75.4, 239.0), (73.8, 244.0), (75.6, 250.0)),
        ((78.0, 258.0), (83.5, 268.0), (83.5, 289.0)),
        ((83.5, 330.0), (50.0, 354.0), (17.0, 354.6)),
        ((10.0, 355.0), (5.0, 355.0), (0.0, 355.0)),
    ],
)
HALF = [*LOWER_BOUT, *WAIST, *UPPER_BOUT]


def _warp(s: ObjectShape, flip: bool = False) -> BodyWarp:
    stop = min(max(s.stop, s.length * (1 - CORNERS[1] * 0.97)), s.length * (1 - CORNERS[0] * 1.03))
    along = (
        (0.0, 0.0),
        (CORNERS[0], CORNERS[0] * s.length),
        (NICK, s.length - stop),
        (CORNERS[1], CORNERS[1] * s.length),
        (1.0, s.length),
    )
    half = LOWER / 2
    across = (
        (WIDEST[0], half * s.lower / LOWER),
        (WIDEST[1], half * s.middle / MIDDLE),
        (WIDEST[2], half * s.upper / UPPER),
    )
    return BodyWarp(along, across, flip)


def _laid(points: Sequence[Point], warp: BodyWarp) -> list[Point]:
    return [warp.to_mm(x / (LOWER / 2), y / LENGTH) for x, y in points]


def _whole(half: Sequence[Point]) -> list[Point]:
    return [*half, *mirrored(half)[1:-1]]


def _purfling(warp: BodyWarp, inset: float, s: ObjectShape) -> list[Point]:
    """The purfling's line: each piece set in by its own distance, mitred in the corners."""
    by = inset * s.length / LENGTH
    parts = [offset(_laid(piece, warp), by if not warp.flip else -by) for piece in PIECES]
    return joined(joined(parts[0], parts[1]), parts[2])


PIECES = (LOWER_BOUT, WAIST, UPPER_BOUT)


def _edges(warp: BodyWarp, s: ObjectShape) -> list[Item]:
    """The outline with its purfling: two fine lines round."""
    items: list[Item] = [shape(_laid(_whole(HALF), warp), EDGE, "spruce")]
    for inset, pen in ((4.1, FINE), (5.4, FINE)):
        half = _purfling(warp, inset, s)
        items.append(shape([*half, *mirrored(half)], pen))
    return items


def _f_hole(side: float) -> list[tuple[list[Point], bool]]:
    """One sound hole of the template as (points, closed): body, two eyes, nicks."""
    nick = NICK * LENGTH
    spine = curve(
        (25.5, nick + 33.2),
        [
            ((27.5, nick + 38.5), (32.5, nick + 38.5), (34.0, nick + 30.0)),
            ((36.0, nick + 17.0), (39.0, nick + 2.0), (42.0, nick - 17.0)),
            ((44.0, nick - 30.0), (46.0, nick - 38.0), (50.5, nick - 36.0)),
            ((53.0, nick - 34.8), (53.5, nick - 32.5), (53.2, nick - 30.5)),
        ],
        n=10,
    )
    body = ribbon(spine, (1.6, 3.6, 4.6, 5.4, 5.8, 5.4, 4.8, 3.8, 1.6))
    eyes = [ellipse(24.6, nick + 30.6, 3.2, 3.2), ellipse(51.0, nick - 28.6, 4.0, 4.0)]
    nicks = [[(35.9, nick + 0.4), (34.6, nick)], [(41.6, nick - 0.2), (43.0, nick - 0.6)]]
    found = [(body, True), *((e, True) for e in eyes), *((k, False) for k in nicks)]
    return [([(side * x, y) for x, y in points], closed) for points, closed in found]


def _front_fittings(warp: BodyWarp, s: ObjectShape) -> list[Item]:
    """Board's end, bridge, tailpiece and strings as ghosts: they tell where a mark lies."""
    nick, top = NICK * LENGTH, LENGTH
    board = [(-16.8, top + 9), (-21.0, 215.0), (21.0, 215.0), (16.8, top + 9)]
    tail = [(-8.0, 14.0), (-10.5, 60.0), (-20.0, 118.0), (20.0, 118.0), (10.5, 60.0), (8.0, 14.0)]
    bridge = [(-20.5, nick - 2.2), (20.5, nick - 2.2), (20.5, nick + 2.2), (-20.5, nick + 2.2)]
    saddle = [(-17.5, 0.6), (-17.5, 6.0), (17.5, 6.0), (17.5, 0.6)]
    items: list[Item] = [shape(_laid(p, warp), GHOST) for p in (board, tail, bridge)]
    items.append(line(_laid(saddle, warp), HAIR))
    for x in (-16.5, -5.6, 5.6, 16.5):
        items.append(line(_laid([(x, 118.0), (x, nick), (x * 0.72, 215.0)], warp), HAIR))
    return items


def front(s: ObjectShape) -> View:
    """The belly from the front, bass side on the left."""
    warp = _warp(s)
    items = _edges(warp, s)
    items.append(line(_laid([(0.0, 0.6), (0.0, LENGTH)], warp), Pen("quiet", 0.1, (5.0, 1.2, 0.8, 1.2))))
    for side in (1.0, -1.0):
        for points, closed in _f_hole(side):
            laid = _laid(points, warp)
            items.append(shape(laid, FINE, "ink") if closed else line(laid, EDGE))
    items += _front_fittings(warp, s)
    return _view("front", warp, s, items)


def back(s: ObjectShape) -> View:
    """The back from behind, treble side on the left."""
    warp = _warp(s, flip=True)
    button = curve(
        (-10.4, LENGTH - 0.4), [((-10.4, LENGTH + 17.0), (10.4, LENGTH + 17.0), (10.4, LENGTH - 0.4))]
    )
    items: list[Item] = [shape(_laid(button, warp), EDGE, "spruce"), *_edges(warp, s)]
    items.append(line(_laid([(-10.0, LENGTH), (10.0, LENGTH)], warp), Pen("spruce", 0.9)))
    if s.back != "one":
        items.append(line(_laid([(0.0, 0.6), (0.0, LENGTH + 9.0)], warp), FINE))
    return _view("back", warp, s, items)


def inside(s: ObjectShape) -> View:
    """The inside by mirror: outline of the front with blocks, linings, bar and post."""
    warp = _warp(s)
    half = _purfling(warp, 6.0, s)
    items: list[Item] = [shape(_laid(_whole(HALF), warp), EDGE)]
    items.append(shape([*half, *mirrored(half)], GHOST))
    nick = NICK * LENGTH
    bar = [(-18.0, 38.0), (-13.0, 38.0), (-10.5, 318.0), (-15.0, 318.0)]
    items.append(shape(_laid(bar, warp), FINE))
    items.append(shape(_laid(ellipse(15.5, nick - 6.5, 3.2, 3.2, 24), warp), FINE))
    for block in (
        [(-24.0, 4.5), (24.0, 4.5), (19.0, 20.0), (-19.0, 20.0)],
        [(-27.0, LENGTH - 5.0), (27.0, LENGTH - 5.0), (20.0, LENGTH - 20.0), (-20.0, LENGTH - 20.0)],
    ):
        items.append(shape(_laid(block, warp), GHOST))
    return _view("inside", warp, s, items)


def _view(name: str, warp: BodyWarp, s: ObjectShape, items: Sequence[Item]) -> View:
    half = s.lower / 2
    edge = _laid(_whole(HALF), warp)
    return View(
        name,
        (-half, -6.5 * s.length / LENGTH, half, s.length + 12.0),
        tuple(items),
        warp,
        ((*edge, edge[0]),),
    )


def ribs(name: str, s: ObjectShape, flip: bool) -> View:
    """A body from the side: ribs between the two edges, archings beyond, corner blocks, button and heel."""
    edge = 4.0 * s.length / LENGTH
    breadth = s.ribs + 2 * edge
    warp = RibWarp(_warp(s).along, breadth, flip)

    def lay(points: Sequence[Point]) -> list[Point]:
        """Points (x from the back's edge [mm], v)."""
        return [warp.to_mm(x / breadth, v) for x, v in points]

    over = 2.5 / LENGTH
    belly, back_arch = s.arch - edge, s.arch * 0.95 - edge
    items: list[Item] = []
    for base, rise in ((breadth, belly), (0.0, -back_arch)):
        arch = curve(
            (base, 0.012),
            [
                ((base + rise * 0.55, 0.04), (base + rise, 0.2), (base + rise, 0.45)),
                ((base + rise, 0.72), (base + rise * 0.5, 0.95), (base, 0.988)),
            ],
        )
        items.append(line(lay(arch), FINE))
    for x in (0.0, breadth - edge):
        items.append(
            shape(lay([(x, -over), (x + edge, -over), (x + edge, 1 + over), (x, 1 + over)]), EDGE, "spruce")
        )
    items.append(line(lay([(edge, 0.004), (breadth - edge, 0.004)]), FINE))
    items.append(line(lay([(edge, 0.996), (breadth - edge, 0.996)]), FINE))
    for v in CORNERS:
        items.append(line(lay([(edge, v), (breadth - edge, v)]), FINE))
        items.append(line(lay([(edge, v + 0.012), (breadth - edge, v + 0.012)]), HAIR))
    heel = [
        (0.0, 1 + over),
        (0.0, 1 + 9 / LENGTH),
        (breadth * 0.62, 1 + 12 / LENGTH),
        (breadth + 5, 1 + 12 / LENGTH),
        (breadth + 5, 0.995),
    ]
    items.append(line(lay(heel), FINE))
    middle, half = breadth / 2, 4.0 * s.length / LENGTH
    knob = [(middle - half, -over), (middle - half, -0.016), (middle + half, -0.016), (middle + half, -over)]
    items.append(line(lay(knob), FINE))
    xs = (-back_arch, breadth + belly)
    low, high = -6.5 * s.length / LENGTH, s.length + 12.0
    box = (breadth - xs[1], low, breadth - xs[0], high) if flip else (xs[0], low, xs[1], high)
    rails = tuple(tuple(lay([(x, 0.0), (x, 0.5), (x, 1.0)])) for x in (edge / 2, breadth - edge / 2))
    return View(name, box, tuple(items), warp, rails)


def body_views(s: ObjectShape) -> tuple[View, ...]:
    """The views of a body, in the order of a body unfolded: bass ribs, front, treble ribs, back, inside."""
    return (
        ribs("bass_ribs", s, flip=False),
        front(s),
        ribs("treble_ribs", s, flip=True),
        back(s),
        inside(s),
    )
