"""The 1:1 strip of a bow's handle: lapping, leather and thumb hollow at their places."""

from dataclasses import dataclass

from purfling.drawing.shapes import AXIS, HAIR, Drawing, Item, Line, Path, Pen, Rect, Text, dimension
from purfling.words import decimal, say

MARGIN = 8.0
HEIGHT = 62.0
MIDDLE = 32.0


@dataclass(frozen=True)
class HandlePlaces:
    """Places along the stick [mm], from its end, or from the lapping's start where ``relative``.

    ``lapping``, ``leather``, ``hollow`` are (start, end); ``diameters`` those at the start and the end of
    the lapping; ``height_mm`` what the wire stands over the stick; ``caption`` what is wound, in words.
    """

    lapping: tuple[float, float]
    leather: tuple[float, float]
    hollow: tuple[float, float]
    diameters: tuple[float, float]
    height_mm: float
    relative: bool
    frog_front_mm: float | None = None
    caption: str = ""


def _ruler(low: float, high: float, x0: float) -> list[Item]:
    """A millimetre ruler along the lower edge, figures every 10 mm."""
    items: list[Item] = [Line(x0, 10, x0 + high - low, 10, HAIR)]
    for mm in range(int(low), int(high) + 1):
        x = x0 + mm - low
        long = 4.0 if mm % 10 == 0 else 2.6 if mm % 5 == 0 else 1.5
        items.append(Line(x, 10, x, 10 + long, HAIR))
        if mm % 10 == 0:
            items.append(Text(x, 5.6, str(mm), 2.6, "middle", "quiet"))
    return items


def _span(name: str, span: tuple[float, float], x0: float, half: float, fill: str) -> list[Item]:
    pens = {"spruce": Pen("ink", 0.25), "none": Pen("varnish", 0.3)}
    start, end = x0 + span[0], x0 + span[1]
    body = Rect(
        start, MIDDLE - half, end - start, 2 * half, pens[fill], "spruce" if fill == "spruce" else "none"
    )
    return [body, Text((start + end) / 2, MIDDLE + half + 1.6, name, 2.8, "middle")]


def _turns(span: tuple[float, float], x0: float, half: float) -> list[Item]:
    """Hatching that stands for the turns, one stroke per 1.5 mm: not the wire itself."""
    found: list[Item] = []
    x = span[0] + 0.75
    while x < span[1]:
        found.append(Line(x0 + x, MIDDLE - half, x0 + x + 0.5, MIDDLE + half, Pen("quiet", 0.1)))
        x += 1.5
    return found


def handle_strip(places: HandlePlaces, language: str = "en") -> Drawing:
    """The strip at 1:1, x along the stick from the button's side to the head."""
    ends = [*places.lapping, *places.leather, *places.hollow]
    front = places.frog_front_mm
    if front is not None:
        ends.append(front)
    low = (min(ends) // 10) * 10 - 10.0
    high = (max(ends) // 10) * 10 + 20.0
    x0 = MARGIN
    shift = x0 - low
    first, last = places.diameters
    a, b = places.lapping
    slope = (last - first) / (b - a)

    def half(x: float) -> float:
        return (first + slope * (min(max(x, a), b) - a)) / 2.0

    upper = [(x + shift, MIDDLE + half(x)) for x in (low, a, b, high)]
    lower = [(x + shift, MIDDLE - half(x)) for x in (high, b, a, low)]
    wound = max(first, last) / 2 + places.height_mm
    items: list[Item] = [
        *_ruler(low, high, x0),
        Path(tuple(upper + lower), HAIR, closed=True),
        Line(x0, MIDDLE, x0 + high - low, MIDDLE, AXIS),
        *_span(say("bow.strip_lapping", language), places.lapping, shift, wound, "spruce"),
        *_turns(places.lapping, shift, wound),
        *_span(say("bow.strip_leather", language), places.leather, shift, wound + 0.6, "none"),
    ]
    h0, h1 = places.hollow[0] + shift, places.hollow[1] + shift
    depth = wound + 0.6
    arc = [(h0 + (h1 - h0) * i / 12, MIDDLE - depth + 1.4 * (1 - (i / 6 - 1) ** 2)) for i in range(13)]
    items.append(Path(tuple(arc), Pen("varnish", 0.4), smooth=True))
    hollow = say("bow.strip_hollow", language)
    items.append(Text(h0 + 1, MIDDLE - depth - 3.4, hollow, 2.6, "start", "varnish"))
    for span in (places.lapping, places.leather):
        text = f"{decimal(span[0], 1, language)} - {decimal(span[1], 1, language)}"
        lift = 14.0 if span is places.lapping else 19.5
        items += dimension((span[0] + shift, MIDDLE), (span[1] + shift, MIDDLE), text, lift, 2.8)
    if front is not None:
        x = front + shift
        items += [
            Line(x, MIDDLE - 16, x, MIDDLE + 9, Pen("ink", 0.35)),
            Text(x - 1, MIDDLE - 15.5, say("bow.strip_frog_front", language), 2.6, "end"),
        ]
    zero = say("bow.strip_zero_lapping" if places.relative else "bow.strip_zero_end", language)
    items.append(Text(x0, HEIGHT - 3.5, f"{places.caption} {zero}".strip(), 2.6, colour="quiet"))
    return Drawing(high - low + 2 * MARGIN, HEIGHT, tuple(items), say("bow.strip_handle", language))
