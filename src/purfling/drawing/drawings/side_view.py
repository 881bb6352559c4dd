"""The instrument from the bass side, to scale: nut, board, strings, bridge, saddle, body plane."""

import math
from collections.abc import Callable, Mapping
from dataclasses import replace

from purfling.craft.card import Card
from purfling.craft.setup import Setup
from purfling.drawing.shapes import AXIS, FOUND, QUIET, Drawing, Item, Path, Pen, Point, Text

WORDS = {"stretched": "heights stretched {k} times", "plane": "body plane"}
At = Callable[[float, float], Point]
X_NUT = 10.0  # mm, the nut from the left edge of the sheet


def _belly(start: float, x_bridge: float, end: float, arch: float) -> list[Point]:
    points: list[Point] = []
    for i in range(65):
        x = start + (end - start) * i / 64
        reach = (x_bridge - start) if x < x_bridge else (end - x_bridge)
        points.append((x, arch * max(math.cos((x - x_bridge) / reach * math.pi / 2), 0.0) ** 0.55))
    return points


def _string(card: Card, setup: Setup, i: int, x_bridge: float, nut: float) -> list[Point]:
    place = setup.strings[i]
    return [
        (x_bridge - card.string_length_mm, nut + setup.level_nut_mm[i]),
        (x_bridge, card.arch_mm + place.notch_height_mm),
        (x_bridge + card.saddle_distance_mm, card.saddle_height_mm),
    ]


def _path(at: At, points: list[Point], pen: Pen, solid: bool = False) -> Path:
    """A path on paper; a solid one is closed and filled."""
    on_paper = tuple(at(*p) for p in points)
    return Path(on_paper, pen, solid, "spruce" if solid else "none")


def _body(card: Card, shown: Setup, at: At, x_bridge: float, line_at: Callable[[float], float]) -> list[Item]:
    """Body plane, belly, board, board line, bridge, saddle and nut."""
    x_nut = X_NUT
    crown = card.arch_mm + shown.crown_centre_height_mm
    root = x_nut + card.neck_stop_mm
    board_end = x_nut + card.board_length_mm
    saddle_x = x_bridge + card.saddle_distance_mm
    body_end = saddle_x + 4.0
    thick = card.edge_at_root_mm

    board = [(x_nut, line_at(x_nut)), (board_end, line_at(board_end))]
    return [
        _path(at, [(root, 0), (body_end, 0)], AXIS),
        _path(at, _belly(root, x_bridge, body_end, card.arch_mm), QUIET),
        _path(at, [*board, *[(x, z - thick) for x, z in reversed(board)]], Pen("ink", 0.2), True),
        _path(at, [(board_end, line_at(board_end)), (x_bridge, line_at(x_bridge))], AXIS),
        _path(
            at,
            [
                (x_bridge - 2.2, card.arch_mm),
                (x_bridge + 2.2, card.arch_mm),
                (x_bridge + 2.2 - 2.9, crown),
                (x_bridge - 2.2, crown),
            ],
            Pen("ink", 0.2),
            True,
        ),
        _path(at, [(saddle_x, 0), (saddle_x, card.saddle_height_mm)], Pen("ink", 0.7)),
        _path(at, [(x_nut, line_at(x_nut) - thick), (x_nut, line_at(x_nut) + 1.5)], Pen("ink", 0.7)),
    ]


def side_view(
    card: Card,
    found: Setup,
    wished: Setup | None = None,
    scale: float = 1 / 3,
    stretch: float = 1.0,
    words: Mapping[str, str] | None = None,
) -> Drawing:
    """The instrument from the bass side.

    Parameters
    ----------
    card : the card drawn; found, wished : set-ups, wished may be None; scale : mm of paper for one mm;
    stretch : heights times this (the drawing says so when it is not 1); words : stretched, plane.
    """
    say = {**WORDS, **(words or {})}
    shown = wished or found
    slope = math.tan(math.radians(shown.board_slope_deg))
    x_nut = X_NUT
    x_bridge = x_nut + card.string_length_mm
    width = x_bridge + card.saddle_distance_mm + 14.0
    line_nut = card.arch_mm + card.projection_mm - card.string_length_mm * slope
    low = min(0.0, line_nut - card.edge_at_root_mm) - 6.0 / (scale * stretch)
    high = card.arch_mm + max(found.crown_centre_height_mm, shown.crown_centre_height_mm)
    high += 6.5 / (scale * stretch)

    def at(x: float, z: float) -> Point:
        return x * scale, (z - low) * scale * stretch

    def line_at(x: float) -> float:
        return line_nut + (x - x_nut) * slope

    items = _body(card, shown, at, x_bridge, line_at)
    outer = (0, len(found.strings) - 1)
    drawn = [(found, FOUND), (wished, Pen("varnish", 0.3))] if wished else [(found, Pen("ink", 0.25))]
    for setup, pen in drawn:
        if setup is not None:
            items += [_path(at, _string(card, setup, i, x_bridge, line_at(x_nut)), pen) for i in outer]
    items += _figures(card, shown, at, x_bridge, line_at, say.get("decimal", "."))
    saddle_x = x_bridge + card.saddle_distance_mm
    items.append(Text(saddle_x * scale, at(0, 0)[1] - 4.0, say["plane"], 2.5, "end", "quiet"))
    if stretch != 1.0:
        items.append(Text(1.0, 1.0, say["stretched"].format(k=f"{stretch:g}"), 2.5, colour="quiet"))
    return Drawing(width * scale, (high - low) * scale * stretch, tuple(items), "side view")


def _figures(
    card: Card, shown: Setup, at: At, x_bridge: float, line_at: Callable[[float], float], point: str
) -> list[Item]:
    first, last = shown.strings[0], shown.strings[-1]
    x, y = at(x_bridge, card.arch_mm + shown.crown_centre_height_mm)
    breaks = f"{first.name} {first.break_angle_deg:.1f}   {last.name} {last.break_angle_deg:.1f} deg"
    half = 10.0 + card.board_length_mm / 2
    hx, hy = at(half, line_at(half))
    quarter = 10.0 + card.board_length_mm * 0.22
    qx, qy = at(quarter, line_at(quarter))
    ex, ey = at(10.0 + card.board_length_mm, line_at(10.0 + card.board_length_mm))
    clear = f"{shown.clearance_mm[0]:.1f} / {shown.clearance_mm[-1]:.1f}"
    figures = [
        Text(x, y + 2.2, breaks, 2.5, "middle"),
        Text(hx, hy + 4.0, f"L {card.string_length_mm:.1f}", 2.5, "middle"),
        Text(qx, qy - 6.5, f"{shown.board_slope_deg:.2f} deg", 2.5, "middle", "quiet"),
        Text(ex - 1.0, ey + 4.6, clear, 2.5, "end"),
        Text(*at(x_bridge + 6.0, card.arch_mm + 3.0), f"P {card.projection_mm:.2f}", 2.5, colour="quiet"),
    ]
    return [replace(t, text=t.text.replace(".", point)) for t in figures]
