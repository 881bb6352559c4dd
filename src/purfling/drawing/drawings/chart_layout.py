"""Where each view stands on the chart of marks: a body unfolded, the head and the fittings beside it."""

from dataclasses import dataclass

from purfling.drawing.drawings.object_outlines import ObjectShape, View, object_views
from purfling.drawing.shapes import Point

WIDE, HIGH = 500.0, 300.0
TITLE = 11.0  # room under a view for its words, of a sheet 500 wide
REACH = 9.0  # how far beside a view a touch still belongs to it


@dataclass(frozen=True)
class Place:
    """A view at ``scale`` with its own origin at (dx, dy) of the sheet."""

    view: View
    dx: float
    dy: float
    scale: float

    def to_sheet(self, point: Point) -> Point:
        """View's millimetres -> sheet's."""
        return (self.dx + point[0] * self.scale, self.dy + point[1] * self.scale)

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Its box on the sheet."""
        x0, y0, x1, y1 = self.view.box
        return (*self.to_sheet((x0, y0)), *self.to_sheet((x1, y1)))

    def on_sheet(self, u: float, v: float) -> Point:
        """Unit coordinates -> sheet."""
        return self.to_sheet(self.view.warp.to_mm(u, v))

    def from_sheet(self, x: float, y: float) -> Point:
        """Sheet -> unit coordinates."""
        return self.view.warp.to_unit((x - self.dx) / self.scale, (y - self.dy) / self.scale)


@dataclass(frozen=True)
class Sheet:
    """A chart's size [mm of the sheet] and its views; ``scale`` is that of the body or the bow's details."""

    width: float
    height: float
    places: tuple[Place, ...]
    scale: float

    def place(self, view: str) -> Place | None:
        """The place of a view, None where this sheet has it not."""
        return next((p for p in self.places if p.view.name == view), None)

    def locate(self, x: float, y: float) -> tuple[str, float, float] | None:
        """The view and unit coordinates of a touch (y up), None beside every view."""
        best: tuple[float, Place] | None = None
        for p in self.places:
            x0, y0, x1, y1 = p.box
            away = max(x0 - x, x - x1, 0.0) + max(y0 - y, y - y1, 0.0)
            if away <= REACH and (best is None or away < best[0]):
                best = (away, p)
        if best is None:
            return None
        return (best[1].view.name, *best[1].from_sheet(x, y))


def _stand(view: View, x: float, y: float, scale: float) -> Place:
    """A view with its lower left corner at (x, y)."""
    return Place(view, x - view.box[0] * scale, y - view.box[1] * scale, scale)


def _wide(view: View, scale: float) -> float:
    return (view.box[2] - view.box[0]) * scale


def _high(view: View, scale: float) -> float:
    return (view.box[3] - view.box[1]) * scale


def chart_layout(s: ObjectShape) -> Sheet:
    """The whole object on one sheet."""
    return _bow_layout(s) if s.is_bow else _instrument_layout(s)


def _instrument_layout(s: ObjectShape) -> Sheet:
    views = object_views(s)
    body = ("bass_ribs", "front", "treble_ribs", "back")
    top, base = HIGH - 8.0, TITLE + 5.0
    column = 124.0
    natural = sum(_wide(views[n], 1.0) for n in body)
    room = WIDE - column - 10.0 - 8.0 - 3 * 7.0
    scale = min((top - base) / _high(views["front"], 1.0), room / natural)
    gap = min((WIDE - column - 22.0 - natural * scale) / 3, 16.0)
    high = _high(views["front"], scale)
    lift = base + (top - base - high) / 2
    places: list[Place] = []
    x = 10.0
    for name in body:
        places.append(_stand(views[name], x, lift, scale))
        x += _wide(views[name], scale) + gap
    left = WIDE - column
    places += _head_row(views, left, top)
    lower = top - max(_high(p.view, p.scale) for p in places[4:8]) - TITLE - 7.0
    places += _lower_row(views, left, base, lower)
    return Sheet(WIDE, HIGH, tuple(places), scale)


def _head_row(views: dict[str, View], left: float, top: float) -> list[Place]:
    """The head's four sides, in the order in which one turns it."""
    names = ("scroll_bass", "scroll_front", "scroll_treble", "scroll_back")
    natural = sum(_wide(views[n], 1.0) for n in names)
    scale = 108.0 / natural
    x, found = left, []
    for name in names:
        found.append(_stand(views[name], x, top - _high(views[name], scale), scale))
        x += _wide(views[name], scale) + 3.4
    return found


def _lower_row(views: dict[str, View], left: float, base: float, top: float) -> list[Place]:
    """Board, fittings and inside under the head."""
    board = views["neck_board"]
    scale = min((top - base) / _high(board, 1.0), 36.0 / _wide(board, 1.0))
    found = [_stand(board, left, base, scale)]
    x = left + _wide(board, scale) + 7.0
    room = WIDE - 9.0 - x
    split = (top - base - TITLE) * 0.5
    inside, fittings = views["inside"], views["fittings"]
    k = min((split - 2) / _high(inside, 1.0), room / _wide(inside, 1.0))
    found.append(_stand(inside, x + (room - _wide(inside, k)) / 2, base, k))
    k2 = min((split - 2) / _high(fittings, 1.0), room / _wide(fittings, 1.0))
    found.append(_stand(fittings, x + (room - _wide(fittings, k2)) / 2, top - _high(fittings, k2), k2))
    return found


def _bow_layout(s: ObjectShape) -> Sheet:
    views = object_views(s)
    height = 235.0
    whole = views["bow_whole"]
    scale = (WIDE - 24.0) / _wide(whole, 1.0)
    places = [_stand(whole, 12.0, height - 16.0 - _high(whole, scale), scale)]
    detail = 2.0
    x = 12.0
    for name in ("frog_player", "frog_far", "frog_under"):
        y = 118.0 + (36.0 * detail - _high(views[name], detail)) / 2 - 10.0
        places.append(_stand(views[name], x, y, detail))
        x += _wide(views[name], detail) + 8.0
    x = 12.0
    for name in ("head_player", "head_far", "plate", "button"):
        y = 20.0 + (38.0 * detail - _high(views[name], detail)) / 2
        places.append(_stand(views[name], x, y, detail))
        x += _wide(views[name], detail) + 22.0
    return Sheet(WIDE, height, tuple(places), detail)


def closer_layout(s: ObjectShape, view: str) -> Sheet:
    """One view as large as the sheet takes it."""
    one = object_views(s)[view]
    wide, high = WIDE - 60.0, 320.0 - TITLE - 24.0
    scale = min(wide / _wide(one, 1.0), high / _high(one, 1.0))
    height = _high(one, scale) + TITLE + 26.0
    return Sheet(WIDE, height, (_stand(one, (WIDE - _wide(one, scale)) / 2, TITLE + 9.0, scale),), scale)
