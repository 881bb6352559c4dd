"""The sheet of the varnish: plain outlines of an object, and where tests, coats and closed places lie."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from purfling.drawing.shapes import (
    INK,
    QUIET,
    Circle,
    Drawing,
    Group,
    Item,
    Line,
    Path,
    Pen,
    Point,
    Rect,
    Text,
)

WIDE, HIGH = 300.0, 178.0
LETTER = 6.1  # 18 pixels on a tablet 1024 wide
REACH = 4.0  # mm beside a view that still belong to it
# Body length, upper, middle, lower bout, ribs [mm] where they are not known: common practice, no source.
USUAL = {
    "violin": (355.0, 167.0, 110.0, 207.0, 30.5),
    "viola": (410.0, 190.0, 130.0, 243.0, 37.0),
    "cello": (755.0, 343.0, 230.0, 438.0, 116.0),
}
SIGNS = {"test": "ochre", "forbidden": "madder", "coat": "varnish", "clean": "water", "closed": "madder"}


@dataclass(frozen=True)
class Place:
    """A view's box on the sheet: lower left corner, width and height [mm of the sheet]."""

    view: str
    x: float
    y: float
    width: float
    height: float

    def on_sheet(self, x: float, y: float) -> Point:
        """Shares of the box -> sheet."""
        return self.x + x * self.width, self.y + y * self.height

    def away(self, x: float, y: float) -> float:
        """How far beside the box a touch lies; 0 inside."""
        return max(self.x - x, x - self.x - self.width, 0.0) + max(self.y - y, y - self.y - self.height, 0.0)


@dataclass(frozen=True)
class Spot:
    """Something at a place: ``sign`` test, forbidden, coat, clean or closed; ``name`` stands beside it."""

    view: str
    x: float
    y: float
    sign: str
    name: str
    id: str = ""


def _half(length: float, upper: float, middle: float, lower: float) -> list[Point]:
    u, m, w = upper / 2, middle / 2, lower / 2
    control = [
        (0.0, 0.0), (w * 0.62, 0.0), (w, length * 0.08), (w, length * 0.21),
        (w, length * 0.31), (w * 0.9, length * 0.36), (w * 0.86, length * 0.385),
        (m * 1.02, length * 0.39), (m, length * 0.47), (m, length * 0.53),
        (m, length * 0.60), (m * 1.12, length * 0.655), (u * 0.92, length * 0.668),
        (u * 0.98, length * 0.69), (u, length * 0.75), (u, length * 0.82),
        (u, length * 0.93), (u * 0.6, length), (0.0, length),
    ]  # fmt: skip
    found: list[Point] = [control[0]]
    for i in range(1, len(control) - 2, 3):
        (x0, y0), (x1, y1), (x2, y2), (x3, y3) = control[i - 1 : i + 3]
        for k in range(1, 9):
            t = k / 8
            a, b, c, d = (1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3
            found.append((a * x0 + b * x1 + c * x2 + d * x3, a * y0 + b * y1 + c * y2 + d * y3))
    return found


def body_size(
    family: str, length: float | None, upper: float | None, lower: float | None
) -> tuple[float, ...]:
    """Length, upper, middle, lower bout and ribs [mm], the unknown ones usual and scaled by the length."""
    usual = USUAL[family]
    scale = (length or usual[0]) / usual[0]
    own = [v * scale for v in usual]
    return own[0], upper or own[1], own[2], lower or own[3], own[4]


def sheet_places(is_bow: bool, size: Sequence[float]) -> tuple[Place, ...]:
    """Where each view lies on the sheet."""
    if is_bow:
        return (
            Place("bow_whole", 8.0, 62.0, WIDE - 16.0, 16.0),
            Place("frog_player", 20.0, 12.0, 80.0, 34.0),
            Place("head_player", 180.0, 12.0, 70.0, 34.0),
        )
    length, upper, _middle, lower, ribs = size
    scale = min((HIGH - 22.0) / length, 200.0 / (2 * max(lower, upper) + 2 * min(ribs, 60.0)))
    high, wide, thick = length * scale, max(lower, upper) * scale, max(min(ribs, 60.0) * scale, 9.0)
    base, x = 14.0, 8.0
    found = []
    for view, across in (("bass_ribs", thick), ("front", wide), ("treble_ribs", thick), ("back", wide)):
        found.append(Place(view, x, base, across, high))
        x += across + 6.0
    head = (WIDE - x - 12.0) / 2
    found += [
        Place("scroll_bass", x + 2.0, HIGH - 66.0, head - 2.0, 58.0),
        Place("scroll_treble", x + head + 6.0, HIGH - 66.0, head - 2.0, 58.0),
        Place("neck_board", x + 2.0 + head / 2, base, head, HIGH - 96.0),
    ]
    return tuple(found)


def sheet_views(is_bow: bool) -> tuple[str, ...]:
    """Names of the views."""
    return tuple(p.view for p in sheet_places(is_bow, USUAL["violin"]))


def locate(places: Sequence[Place], x: float, y: float) -> tuple[str, float, float] | None:
    """View and shares of its box at a place of the sheet (y up); None beside every view."""
    best = min(places, key=lambda p: p.away(x, y))
    if best.away(x, y) > REACH:
        return None
    inside = (min(max((x - best.x) / best.width, 0.0), 1.0), min(max((y - best.y) / best.height, 0.0), 1.0))
    return best.view, *inside


def _body(place: Place, size: Sequence[float], back: bool) -> list[Item]:
    length, upper, middle, lower, _ribs = size
    k = place.height / length
    cx = place.x + place.width / 2
    half = _half(length, upper, middle, lower)
    right = [(cx + x * k, place.y + y * k) for x, y in half]
    left = [(cx - x * k, place.y + y * k) for x, y in reversed(half)]
    items: list[Item] = [Path(tuple(right + left), Pen("ink", 0.5), True)]
    if back:
        items.append(Line(cx, place.y, cx, place.y + place.height, Pen("quiet", 0.14)))
    else:
        for s in (-1.0, 1.0):
            hole = [
                (cx + s * middle * k * f, place.y + place.height * g)
                for f, g in ((0.30, 0.58), (0.35, 0.54), (0.38, 0.47), (0.45, 0.40))
            ]
            items.append(Path(tuple(hole), Pen("ink", 0.6)))
        y = place.y + place.height * 0.45
        items.append(Line(cx - middle * k * 0.19, y, cx + middle * k * 0.19, y, Pen("quiet", 0.3)))
    return items


def _scroll(place: Place, flip: bool) -> list[Item]:
    import math

    s = -1.0 if flip else 1.0
    cx, cy = place.x + place.width / 2, place.y + place.height * 0.7
    r = min(place.width * 0.36, place.height * 0.22)
    turn = [
        (cx - s * r * (1 - t / 4.2) * math.cos(t * math.pi), cy + r * (1 - t / 4.2) * math.sin(t * math.pi))
        for t in (i / 12 for i in range(41))
    ]
    x0, x1 = cx - s * r, cx + s * r * 0.9
    box = [(x0, cy), (x0 + s * r * 0.5, place.y + 3.0), (x1 + s * 2.0, place.y + 3.0), (x1, cy - r * 0.5)]
    return [Path(tuple(turn), Pen("ink", 0.45)), Path(tuple(box), Pen("ink", 0.45))]


def _view(place: Place, size: Sequence[float]) -> list[Item]:
    x, y, w, h = place.x, place.y, place.width, place.height
    if place.view in ("front", "back"):
        return _body(place, size, place.view == "back")
    if place.view in ("scroll_bass", "scroll_treble"):
        return _scroll(place, place.view == "scroll_treble")
    if place.view == "neck_board":
        c = x + w / 2
        board = ((c - w * 0.30, y), (c + w * 0.30, y), (c + w * 0.18, y + h), (c - w * 0.18, y + h))
        return [Path(board, INK, True)]
    if place.view == "bow_whole":
        top = tuple(
            (x + w * t, y + h * (0.62 - 0.30 * (1 - (2 * t - 1) ** 2))) for t in (i / 20 for i in range(21))
        )
        frog = (
            (x + w * 0.03, y),
            (x + w * 0.09, y),
            (x + w * 0.09, y + h * 0.5),
            (x + w * 0.03, y + h * 0.5),
        )
        hair = Line(x + w * 0.09, y + 1.0, x + w, y + 1.0, QUIET)
        return [
            Path(top, Pen("ink", 0.9)),
            Path(frog, INK, True),
            hair,
            Line(x + w, y + 1, x + w, y + h * 0.6, INK),
        ]
    if place.view == "frog_player":
        frog = ((x, y), (x + w * 0.9, y), (x + w, y + h * 0.6), (x + w * 0.06, y + h * 0.6))
        stick = Rect(x - 6.0, y + h * 0.66, w + 12.0, h * 0.22, INK)
        return [Path(frog, INK, True), stick, Circle(x + w * 0.45, y + h * 0.32, h * 0.13, QUIET)]
    if place.view == "head_player":
        head = ((x, y + h * 0.75), (x + w * 0.7, y + h * 0.8), (x + w * 0.9, y + h), (x + w, y + h * 0.1),
                (x + w * 0.62, y), (x + w * 0.55, y + h * 0.55), (x, y + h * 0.55))  # fmt: skip
        return [Path(head, INK, True)]
    return [Rect(x, y, w, h, Pen("ink", 0.4))]


def _sign(spot: Spot, at: Point) -> Group:
    x, y = at
    colour = SIGNS[spot.sign]
    pen = Pen(colour, 0.7)  # type: ignore[arg-type]
    if spot.sign == "coat":
        shape: list[Item] = [Rect(x - 2.6, y - 2.6, 5.2, 5.2, pen, "paper")]
    elif spot.sign == "closed":
        shape = [Circle(x, y, 3.6, pen, "paper"), Line(x - 2.5, y - 2.5, x + 2.5, y + 2.5, pen)]
    elif spot.sign == "clean":
        shape = [Path(((x, y + 3.4), (x + 3.2, y - 2.4), (x - 3.2, y - 2.4)), pen, True, "paper")]
    else:
        shape = [Circle(x, y, 3.0, pen, "paper")]
    if spot.sign == "forbidden":
        shape += [
            Line(x - 2.1, y - 2.1, x + 2.1, y + 2.1, pen),
            Line(x - 2.1, y + 2.1, x + 2.1, y - 2.1, pen),
        ]
    shape.append(Text(x + 4.2, y - 2.1, spot.name, LETTER, colour=colour, bold=True))  # type: ignore[arg-type]
    return Group(f"at-{spot.id}" if spot.id else "at", tuple(shape))


def varnish_sheet(
    is_bow: bool, size: Sequence[float], spots: Sequence[Spot], words: Mapping[str, str]
) -> Drawing:
    """The sheet.

    Parameters
    ----------
    is_bow : a bow or an instrument; size : as by ``body_size``; spots : what lies where.
    words : a view's name -> its words, and ``title``.
    """
    places = sheet_places(is_bow, size)
    high = 92.0 if is_bow else HIGH
    items: list[Item] = []
    for place in places:
        label = Text(place.x + place.width / 2, place.y - 8.2, words[place.view], LETTER, "middle", "quiet")
        items.append(Group(f"view-{place.view}", (*_view(place, size), label)))
    by_view = {p.view: p for p in places}
    items += [_sign(s, by_view[s.view].on_sheet(s.x, s.y)) for s in spots if s.view in by_view]
    return Drawing(WIDE, high, tuple(items), words["title"])
