"""A bow: the whole, head from both sides and plate, frog from both sides and below, button."""

from purfling.drawing.drawings.outline_curves import EDGE, FINE, HAIR, BoxWarp, curve, ellipse, line, shape
from purfling.drawing.drawings.outline_view import ObjectShape, View
from purfling.drawing.shapes import Item, Path, Point

USUAL = 745.0


def _stick() -> list[Item]:
    """The whole bow, button at x = 0, head to the right, hair below."""
    long = USUAL
    upper = curve(
        (14.0, 34.0),
        [
            ((250.0, 33.0), (480.0, 17.0), (long - 32, 30.0)),
            ((long - 20, 31.0), (long - 14, 32.0), (long - 9, 36.4)),
        ],
    )
    lower = curve((long - 24, 25.0), [((480.0, 11.6), (250.0, 25.8), (14.0, 25.6))])
    head = [
        (long - 9, 36.4),
        (long - 6.2, 34.4),
        (long - 3.4, 10.2),
        (long - 23, 10.6),
        (long - 21.2, 16.0),
        (long - 24, 25.0),
    ]
    items: list[Item] = [shape([*upper, *head, *lower], EDGE, "spruce")]
    items.append(shape([(0.0, 26.2), (13.4, 26.0), (13.4, 33.6), (0.0, 33.4)], EDGE, "paper"))
    items.append(shape([(36.0, 25.4), (84.0, 25.2), (86.0, 10.4), (36.0, 8.0)], EDGE, "spruce"))
    items.append(shape(ellipse(58.0, 16.8, 3.6, 3.6, 26), FINE, "paper"))
    items.append(line([(86.0, 10.6), (long - 3.4, 10.2)], HAIR))
    items.append(line([(86.0, 12.2), (long - 22.6, 12.2)], HAIR))
    for i in range(26):
        x = 112.0 + 3.0 * i
        items.append(line([(x, 26.0), (x + 1.0, 33.4)], HAIR))
    items.append(shape([(88.0, 25.4), (110.0, 25.8), (110.0, 33.8), (88.0, 34.0)], FINE, "ink"))
    return items


def _head() -> list[Item]:
    """The head: stick from the left, plate below."""
    outline = curve(
        (0.0, 27.4),
        [
            ((18.0, 28.6), (30.0, 29.6), (38.0, 33.0)),
            ((41.0, 34.4), (43.0, 34.0), (43.8, 31.6)),
            ((45.4, 22.0), (46.4, 12.0), (48.0, 3.4)),
        ],
    )
    throat = curve(
        (21.0, 3.4), [((22.6, 10.0), (20.0, 19.4), (10.0, 21.0)), ((6.0, 21.6), (3.0, 21.8), (0.0, 21.8))]
    )
    items: list[Item] = [shape([*outline, (21.0, 3.4), *throat[1:]], EDGE, "spruce")]
    items.append(shape([(20.4, 3.4), (48.0, 3.4), (50.6, 0.4), (20.2, 0.4)], FINE, "paper"))
    items.append(line([(20.4, 2.1), (49.2, 2.1)], HAIR))
    items.append(
        line(
            curve(
                (4.0, 26.2),
                [((20.0, 27.2), (33.0, 28.4), (40.6, 32.2)), ((43.0, 24.0), (44.2, 14.0), (45.6, 4.4))],
            ),
            HAIR,
        )
    )
    return items


def _plate() -> list[Item]:
    half = curve(
        (0.0, 5.2), [((8.0, 5.2), (18.0, 5.0), (24.0, 3.2)), ((27.0, 2.0), (29.4, 0.9), (30.4, 0.0))]
    )
    outline = [*half, *[(x, -y) for x, y in reversed(half)][1:]]
    items: list[Item] = [shape(outline, EDGE, "paper")]
    items.append(shape([(4.6, -3.0), (14.0, -2.8), (14.0, 2.8), (4.6, 3.0)], FINE, "ink"))
    return items


def _frog() -> list[Item]:
    """The frog: stick above, ferrule to the right."""
    body = curve(
        (0.0, 0.6), [((14.0, 0.2), (24.0, 0.4), (33.0, 1.0)), ((36.0, 1.4), (38.0, 2.0), (40.0, 3.0))]
    )
    throat = curve((40.0, 9.0), [((33.0, 10.0), (33.4, 20.6), (46.0, 21.2))])
    items: list[Item] = [shape([*body, (40.0, 9.0), *throat[1:], (46.0, 24.0), (0.0, 24.0)], EDGE, "spruce")]
    items.append(shape([(34.6, 1.2), (51.0, 2.0), (51.0, 8.4), (38.4, 9.4)], FINE, "paper"))
    items.append(shape([(0.0, 24.0), (46.0, 24.0), (46.0, 25.6), (0.0, 25.6)], FINE, "paper"))
    items.append(shape([(-16.0, 25.6), (60.0, 25.6), (60.0, 33.8), (-16.0, 33.8)], EDGE, "spruce"))
    items.append(line([(-16.0, 31.4), (60.0, 31.4)], HAIR))
    items.append(line([(-16.0, 28.0), (60.0, 28.0)], HAIR))
    items.append(shape(ellipse(19.0, 12.2, 4.4, 4.4, 36), FINE, "paper"))
    items.append(shape(ellipse(19.0, 12.2, 3.2, 3.2, 36), HAIR))
    items.append(line([(5.4, 0.6), (5.4, 24.0)], HAIR))
    for y in (6.0, 18.0):
        items.append(shape(ellipse(2.7, y, 0.7, 0.7, 12), HAIR, "ink"))
    return items


def _under() -> list[Item]:
    items: list[Item] = [shape([(0.0, -6.4), (36.0, -7.2), (36.0, 7.2), (0.0, 6.4)], EDGE, "spruce")]
    items.append(shape([(5.6, -4.4), (34.0, -5.2), (34.0, 5.2), (5.6, 4.4)], FINE, "paper"))
    items.append(shape([(36.0, -7.4), (51.0, -7.4), (51.0, 7.4), (36.0, 7.4)], FINE, "paper"))
    items.append(line([(51.0, -5.6), (64.0, -5.4), (64.0, 5.4), (51.0, 5.6)], HAIR))
    return items


def _button() -> list[Item]:
    outline: list[Point] = [(0.0, -4.2), (2.0, -4.6), (14.6, -4.2), (14.6, 4.2), (2.0, 4.6), (0.0, 4.2)]
    items: list[Item] = [shape(outline, EDGE, "spruce")]
    for x in (2.6, 5.2, 11.4, 13.4):
        items.append(line([(x, -4.4), (x, 4.4)], FINE))
    items.append(shape([(14.6, -1.5), (26.0, -1.5), (26.0, 1.5), (14.6, 1.5)], FINE, "paper"))
    return items


def _across(items: list[Item], middle: float) -> list[Item]:
    found: list[Item] = []
    for item in items:
        if isinstance(item, Path):
            turned = tuple((2 * middle - x, y) for x, y in item.points)
            found.append(Path(turned, item.pen, item.closed, item.fill, item.smooth))
    return found


def bow_views(s: ObjectShape) -> tuple[View, ...]:
    """The views of a bow. With the hair below, the player sees the head to the left of the frog."""
    scale = s.length / USUAL
    views: list[View] = []
    for name, items, box in (
        ("bow_whole", _stick(), (0.0, 5.0, USUAL, 39.0)),
        ("head_player", _across(_head(), 25.0), (-2.0, -1.0, 52.0, 37.0)),
        ("head_far", _head(), (-2.0, -1.0, 52.0, 37.0)),
        ("plate", _plate(), (-2.0, -7.0, 33.0, 7.0)),
        ("frog_player", _across(_frog(), 22.0), (-17.0, -1.0, 61.0, 35.0)),
        ("frog_far", _frog(), (-17.0, -1.0, 61.0, 35.0)),
        ("frog_under", _under(), (-2.0, -9.0, 66.0, 9.0)),
        ("button", _button(), (-2.0, -7.0, 28.0, 7.0)),
    ):
        k = scale if name == "bow_whole" else 1.0
        x0, y0, x1, y1 = box[0] * k, box[1], box[2] * k, box[3]
        drawn = tuple(_stretched(i, k) for i in items)
        edges = tuple(
            (*i.points, i.points[0]) for i in drawn if isinstance(i, Path) and i.closed and len(i.points) > 20
        )
        warp = BoxWarp(x0, y0, x1 - x0, y1 - y0, flip=name.endswith("_player"))
        views.append(View(name, (x0, y0, x1, y1), drawn, warp, edges))
    return tuple(views)


def _stretched(item: Item, k: float) -> Item:
    """The whole bow grows along its stick alone."""
    if k == 1.0 or not isinstance(item, Path):
        return item
    return Path(tuple((x * k, y) for x, y in item.points), item.pen, item.closed, item.fill, item.smooth)
