"""Each string over its board with the room its swing takes: heights stretched 20 times, and said so."""

from collections.abc import Sequence
from dataclasses import dataclass

from purfling.drawing.shapes import HAIR, Drawing, Item, Line, Path, Pen, Point, Text
from purfling.words import decimal, say

WIDTH = 354.0
LEFT = 20.0
ALONG = 140.0  # mm that the string length takes
STRETCH = 20.0
Lines = tuple[tuple[Point, ...], tuple[Point, ...], tuple[Point, ...]]


@dataclass(frozen=True)
class Strip:
    """One string: (place, height over the board's chord) [mm] of board, string and lowest swing.

    ``open_string`` and ``stopped`` are (string, bowed, plucked); ``ratio`` the margins of the two.
    """

    name: str
    board: tuple[Point, ...]
    open_string: Lines
    stopped: Lines
    semitone: int
    ratio: tuple[float, float]
    over_chord_mm: float


def _panel(
    strip: Strip, lines: Lines, left: float, base: float, run: float, said: str, bad: bool
) -> list[Item]:
    rise = run * STRETCH

    def at(points: Sequence[Point]) -> tuple[Point, ...]:
        return tuple((left + x * run, base + z * rise) for x, z in points)

    board = at(strip.board)
    floor = base - 6.0 - max(-z for _, z in strip.board) * rise
    wood = (*board, (board[-1][0], floor), (board[0][0], floor))
    string, bow, pluck = (at(points) for points in lines)
    swept = (*string, *reversed(bow))
    end, top = left + ALONG, string[-1][1]
    return [
        Path(swept, Pen("none", 0.0), True, "spruce"),
        Path(wood, Pen("ink", 0.3), True, "spruce"),
        Path(pluck, Pen("water", 0.3, (1.6, 1.0))),
        Path(bow, Pen("varnish", 0.35)),
        Path(string, Pen("ink", 0.3)),
        Line(end, floor, end, top + 2, HAIR),
        Text(left - 3, base - 1.5, strip.name, 5.6, "end", bold=True),
        Text(left + 6, top - 1, said, 4.2, "start", "madder" if bad else "ink", bad),
    ]


def margins_drawing(strips: Sequence[Strip], length_mm: float, language: str = "en") -> Drawing:
    """For each string two panels: open, and stopped where its margin is least."""
    run = ALONG / length_mm
    tall = [(s.over_chord_mm + max(-z for _, z in s.board)) * run * STRETCH + 16.0 for s in strips]
    height = 34.0 + sum(tall)
    note = say("arithmetic.stretched", language, times=f"{STRETCH:g}")
    items: list[Item] = [
        Text(LEFT, height - 9, say("arithmetic.picture_margins", language), 5.4, bold=True),
        Text(LEFT, height - 15.5, note, 4.0, colour="ochre"),
        Text(LEFT, height - 21.5, say("arithmetic.picture_lines", language), 3.8, colour="quiet"),
    ]
    top = height - 28.0
    for strip, high in zip(strips, tall, strict=True):
        base = top - strip.over_chord_mm * run * STRETCH - 4.0
        panels = ((strip.open_string, "panel_open"), (strip.stopped, "panel_stopped"))
        for column, (lines, code) in enumerate(panels):
            ratio = strip.ratio[column]
            shown = {"semitone": strip.semitone, "ratio": decimal(ratio, 2, language)}
            said = say(f"arithmetic.{code}", language, **shown)
            items += _panel(strip, lines, LEFT + column * (ALONG + 26.0), base, run, said, ratio < 1)
        top -= high
    return Drawing(WIDTH, height, tuple(items), say("arithmetic.picture_margins", language))
