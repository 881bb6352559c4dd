"""The bridge template at 1:1: crown line to cut to, notch line, board line's mark, feet, nut, check bars."""

from collections.abc import Mapping

from purfling.craft.card import Card
from purfling.craft.setup import Setup
from purfling.drawing.drawings.bridge_view import crown_points, notch_points
from purfling.drawing.shapes import (
    AXIS,
    FOUND,
    Drawing,
    Group,
    Item,
    Line,
    Path,
    Pen,
    Point,
    Rect,
    Text,
    check_bars,
    placed,
)

WIDTH, LEAST_HEIGHT = 178.0, 118.0
CENTRE, BASE = 96.0, 52.0
NUT_CENTRE, NUT = 56.0, 14.0
CUT = Pen("ink", 0.25)
NOTCH = Pen("ink", 0.13, (1.2, 0.8))
ALLOWANCE = Pen("quiet", 0.12, (0.5, 0.7))
WORDS = {
    "crown": "crown line: cut to this",
    "notch": "notch line: bottom of the notches",
    "bedding": "bedding allowance {mm} mm",
    "found": "as found (crown)",
    "line": "board line's mark",
    "line_wished": "mark, wished:",
    "line_found": "mark, as found:",
    "over": "under the names: crown over the wished mark, mm",
    "feet": "feet: fit first, heights count from the board line's mark",
    "nut": "nut: groove places",
    "bass": "bass",
    "treble": "treble",
    "uncalibrated": "not calibrated: measure both bars first",
    "calibrated": "printed at {scale}: both bars must measure 100.0 mm",
    "title": "bridge template",
}


def _raised(points: list[Point], by: float) -> tuple[Point, ...]:
    return tuple((x, y + by) for x, y in points)


def _curves(card: Card, found: Setup, wished: Setup, bedding_mm: float) -> list[Item]:
    crown = crown_points(card, wished)
    items: list[Item] = [
        Group("crown-line", (Path(tuple(crown), CUT, smooth=True),)),
        Group("notch-line", (Path(tuple(notch_points(card, wished)), NOTCH, smooth=True),)),
        Group("found-curve", (Path(tuple(crown_points(card, found)), FOUND, smooth=True),)),
    ]
    if bedding_mm > 0:
        allowance = Path(_raised(crown, bedding_mm), ALLOWANCE, smooth=True)
        items.append(Group("bedding-line", (allowance,)))
    return items


def _legend(bedding_mm: float, say: Mapping[str, str]) -> list[Item]:
    lines: list[tuple[str, Pen]] = [
        (say["crown"], CUT),
        (say["notch"], NOTCH),
        (say["found"], FOUND),
        (say["bedding"].format(mm=f"{bedding_mm:.1f}".replace(".", say.get("decimal", "."))), ALLOWANCE),
    ]
    items: list[Item] = [Text(104, 11.0, say["over"], 2.3, colour="quiet")]
    for row, (text, pen) in enumerate(lines):
        y = 31.0 - 4.8 * row
        items.append(Line(104, y + 1.0, 116, y + 1.0, pen))
        items.append(Text(118, y, text, 2.8, colour="ink" if row < 2 else "quiet"))
    return items


def _places(card: Card, wished: Setup, point: str) -> list[Item]:
    items: list[Item] = []
    for place in wished.strings:
        x, low, high = place.lateral_mm, place.notch_height_mm, place.crown_height_mm
        items.append(Line(x, low, x, high + 2.5, Pen("ink", 0.13)))
        items.append(Text(x, high + 5.6, place.name, 3.0, "middle", bold=True))
        items.append(
            Text(
                x, high + 3.0, f"{place.over_board_line_mm:+.1f}".replace(".", point), 2.1, "middle", "quiet"
            )
        )
    half, foot = card.foot_span_mm / 2, card.foot_length_mm
    items.append(Line(-half - 8, 0, half + 8, 0, Pen("ink", 0.13)))
    for x in (-half, half - foot):
        items.append(Rect(x, -1.4, foot, 1.4, None, "quiet"))
    items.append(Line(0, -4, 0, wished.crown_centre_height_mm + 3, AXIS))
    return items


MARK = Pen("quiet", 0.18, (4, 1, 0.6, 1))
MARKS_DIFFER = 0.05  # mm


def _marks(half: float, mark: float, found_mm: float, say: Mapping[str, str]) -> list[Item]:
    """The board line's mark, and the found one where the projection is to change; figures at the edge."""
    edge = WIDTH - 2.0 - CENTRE
    point = say.get("decimal", ".")

    def label(y: float, words: str, value: float) -> Text:
        figure = f"{value:.2f}".replace(".", point)
        return Text(edge, y, f"{words} {figure}", 2.5, "end", "quiet")

    items: list[Item] = [Group("board-line-mark", (Line(-half - 3, mark, half + 3, mark, MARK),))]
    if abs(mark - found_mm) < MARKS_DIFFER:
        return [*items, label(mark - 3.4, say["line"], mark)]
    upper, lower = (found_mm, mark) if found_mm > mark else (mark, found_mm)
    items.append(Line(-half - 3, found_mm, half + 3, found_mm, Pen("quiet", 0.12, (0.6, 0.9))))
    words = {mark: say["line_wished"], found_mm: say["line_found"]}
    return [*items, label(upper + 1.0, words[upper], upper), label(lower - 3.4, words[lower], lower)]


def bridge_template(
    card: Card,
    found: Setup,
    wished: Setup,
    bedding_mm: float,
    found_projection_mm: float,
    print_scale: float | None = None,
    words: Mapping[str, str] | None = None,
) -> Drawing:
    """The template at 1:1, bass at the left, with two bars of exactly 100.0 mm.

    Parameters
    ----------
    card : the wished card; found, wished : set-ups; bedding_mm : allowance drawn above the crown line;
    found_projection_mm : the projection as found, whose mark is drawn as well where it differs;
    print_scale : the printer's correction, told on the sheet (None: "not calibrated"). The coordinates stay
    in mm; ``drawing.svg.to_svg(scale=...)`` and the page enlarge the whole.
    """
    say = {**WORDS, **(words or {})}
    half = card.foot_span_mm / 2
    mark = card.projection_mm
    top = max(found.crown_centre_height_mm, wished.crown_centre_height_mm)
    height = max(LEAST_HEIGHT, BASE + top + 26.0)
    bridge: list[Item] = [
        *_curves(card, found, wished, bedding_mm),
        *_places(card, wished, say.get("decimal", ".")),
        *_marks(half, mark, found_projection_mm, say),
        Text(0, -7.2, say["feet"], 2.6, "middle", "quiet"),
        Text(-half - 10, 1.0, say["bass"], 3.0, "end", "quiet"),
        Text(half + 10, 1.0, say["treble"], 3.0, colour="quiet"),
    ]
    grooves: list[Item] = [Line(-card.nut_spacing_mm / 2 - 6, 0, card.nut_spacing_mm / 2 + 6, 0, CUT)]
    for place, string in zip(wished.groove_lateral_mm, wished.strings, strict=True):
        grooves.append(Line(place, 0, place, 6, Pen("ink", 0.13)))
        grooves.append(Text(place, 7.2, string.name, 2.6, "middle"))
    grooves.append(Line(0, -2, 0, 3, AXIS))
    grooves.append(Text(0, 12.5, say["nut"], 2.8, "middle"))
    if print_scale is None:
        banner = Text(8, height - 8, say["uncalibrated"], 6.4, colour="madder", bold=True)
    else:
        banner = Text(8, height - 7, say["calibrated"].format(scale=f"{print_scale:g}"), 3.4, colour="quiet")
    items: list[Item] = [
        banner,
        *[placed(i, CENTRE, BASE, 1.0) for i in bridge],
        *_legend(bedding_mm, say),
        Group("nut-grooves", tuple(placed(i, NUT_CENTRE, NUT, 1.0) for i in grooves)),
        Group("check-bars", check_bars(2.0, 2.0)),
    ]
    return Drawing(WIDTH, height, tuple(items), say["title"])
