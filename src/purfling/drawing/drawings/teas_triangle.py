"""The Teas triangle: solvents as dots, one instrument's tests as signs by result, a mixture as a ring."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from purfling.craft.varnish.solvents import Fractions
from purfling.drawing.shapes import Circle, Drawing, Item, Line, Path, Pen, Point, Rect, Text

SIDE = 150.0
LEFT, BASE = 30.0, 20.0
LETTER = 4.6  # 18 pixels on a tablet 1024 wide


@dataclass(frozen=True)
class Dot:
    """A point: ``sign`` solvent, nothing, dulled, softened, colour, dissolved or mixture."""

    fractions: Fractions
    sign: str
    name: str = ""


def place(fractions: Fractions) -> Point:
    """Where a mixture lies on the sheet [mm]."""
    x, y = fractions.plane
    return LEFT + x * SIDE / 100, BASE + y * SIDE / 100


def _grid() -> list[Item]:
    pen = Pen("quiet", 0.1)
    items: list[Item] = []
    for n in range(10, 100, 10):
        for a, b in (
            (Fractions(n, 100 - n, 0), Fractions(n, 0, 100 - n)),
            (Fractions(100 - n, n, 0), Fractions(0, n, 100 - n)),
            (Fractions(100 - n, 0, n), Fractions(0, 100 - n, n)),
        ):
            items.append(Line(*place(a), *place(b), pen))
        if n % 20 == 0:
            x, y = place(Fractions(n, 100 - n, 0))
            items.append(Text(x - 2.0, y - 1.2, str(n), LETTER, "end", "quiet"))
            x, y = place(Fractions(100 - n, 0, n))
            items.append(Text(x + 2.0, y - 1.2, str(n), LETTER, "start", "quiet"))
            x, y = place(Fractions(0, n, 100 - n))
            items.append(Text(x, y - 6.0, str(n), LETTER, "middle", "quiet"))
    corners = tuple(place(f) for f in (Fractions(100, 0, 0), Fractions(0, 100, 0), Fractions(0, 0, 100)))
    return [*items, Path(corners, Pen("ink", 0.4), True)]


def _shape(dot: Dot) -> list[Item]:
    x, y = place(dot.fractions)
    madder, ochre, moss = Pen("madder", 0.7), Pen("ochre", 0.7), Pen("moss", 0.7)
    match dot.sign:
        case "solvent":
            left = dot.fractions.polar >= dot.fractions.hydrogen  # names lean away from the middle
            at, anchor = (x - 1.6, "end") if left else (x + 1.6, "start")
            name = Text(at, y - 1.5, dot.name, LETTER, anchor, "quiet")  # type: ignore[arg-type]
            return [Circle(x, y, 0.7, Pen("quiet", 0.2), "quiet"), name]
        case "nothing":
            return [Circle(x, y, 2.4, moss, "paper")]
        case "dissolved":
            return [
                Circle(x, y, 2.6, madder, "paper"),
                Line(x - 1.8, y - 1.8, x + 1.8, y + 1.8, madder),
                Line(x - 1.8, y + 1.8, x + 1.8, y - 1.8, madder),
            ]
        case "colour":
            return [Rect(x - 2.3, y - 2.3, 4.6, 4.6, madder, "madder")]
        case "softened":
            return [Path(((x, y + 3.0), (x + 2.8, y - 2.0), (x - 2.8, y - 2.0)), madder, True, "paper")]
        case "dulled":
            return [Path(((x, y + 2.8), (x + 2.8, y), (x, y - 2.8), (x - 2.8, y)), ochre, True, "paper")]
        case _:
            ring = Pen("varnish", 0.9)
            cross = [Line(x - 6, y, x - 3, y, ring), Line(x + 3, y, x + 6, y, ring)]
            return [
                Circle(x, y, 3.6, ring),
                *cross,
                Text(x + 7.0, y + 2.2, dot.name, LETTER, colour="varnish", bold=True),
            ]


def teas_triangle(dots: Sequence[Dot], words: Mapping[str, str]) -> Drawing:
    """The triangle.

    Parameters
    ----------
    dots : solvents first, then tests, then the mixture, as they are to be drawn.
    words : ``title`` and the corners ``dispersion``, ``polar``, ``hydrogen``.
    """
    top = BASE + SIDE * math.sqrt(3) / 2
    items = _grid()
    items += [
        Text(LEFT + SIDE / 2, top + 4.0, words["dispersion"], LETTER, "middle"),
        Text(LEFT - 8.0, BASE - 14.5, words["polar"], LETTER, "start"),
        Text(LEFT + SIDE + 12.0, BASE - 14.5, words["hydrogen"], LETTER, "end"),
    ]
    for dot in dots:
        items += _shape(dot)
    return Drawing(LEFT * 2 + SIDE + 14.0, top + 12.0, tuple(items), words["title"])
