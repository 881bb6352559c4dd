"""Long 1:1 strips on a page: cut into rows with registration marks, check bars in both directions."""

import math
from dataclasses import dataclass

from purfling.drawing.clip import between
from purfling.drawing.shapes import HAIR, Circle, Drawing, Item, Line, Rect, Text, check_bars, placed

PAPERS = {"a4": (210.0, 297.0), "us-letter": (215.9, 279.4)}
LEFT, RIGHT, TOP, BOTTOM = 24.0, 12.0, 30.0, 22.0  # margins that no strip enters [mm]
OVERLAP = 12.0  # of two rows at a joint [mm]
GAP = 5.0


@dataclass(frozen=True)
class StripWords:
    """What a strip page says: ``title``, the ``scale_line`` under it, ``loud`` where not calibrated."""

    title: str
    scale_line: str
    loud: str
    joint: str


def _cross(x: float, y: float) -> list[Item]:
    return [
        Line(x - 3, y, x + 3, y, HAIR),
        Line(x, y - 3, x, y + 3, HAIR),
        Circle(x, y, 1.5, HAIR),
    ]


def _joint(strip: Drawing, x: float, word: str, mark: int, offset: float) -> list[Item]:
    """Two registration crosses on the line where two rows are laid on one another."""
    return [
        *_cross(x, 3.5),
        *_cross(x, strip.height - 3.5),
        Text(x + offset, strip.height - 7.6, f"{word} {mark}", 2.4, "middle", "quiet"),
    ]


def rows_of(strip: Drawing, longest: float, joint: str) -> list[Drawing]:
    """A strip cut into rows of at most ``longest`` [mm]; a short one is its own only row.

    Rows overlap by 12 mm; the registration crosses of a joint stand at the same place of the strip
    on both rows, in the middle of the overlap.
    """
    if strip.width <= longest:
        return [strip]
    count = math.ceil((strip.width - OVERLAP) / (longest - OVERLAP))
    step = (strip.width - OVERLAP) / count
    rows = []
    for i in range(count):
        low, high = i * step, i * step + step + OVERLAP
        items = between(strip.items, low, high)
        if i:
            items += _joint(strip, low + OVERLAP / 2, joint, i, 5.0)
        if i < count - 1:
            items += _joint(strip, high - OVERLAP / 2, joint, i + 1, -5.0)
        moved = tuple(placed(item, -low, 0.0, 1.0) for item in items)
        rows.append(Drawing(high - low, strip.height, moved, strip.title))
    return rows


def pages(strip: Drawing, paper: str, words: StripWords, print_scale: float | None) -> list[Drawing]:
    """Pages of ``paper`` that carry a strip at 1:1 times the printer's correction.

    Everything to scale, bars included, is drawn ``print_scale`` times as large; None draws 1:1 and says
    in large type that the printer is not calibrated.
    """
    width, height = PAPERS[paper]
    scale = 1.0 if print_scale is None else print_scale
    rows = rows_of(strip, (width - LEFT - RIGHT) / scale, words.joint)
    pitch = strip.height * scale + GAP
    per_page = max(int((height - TOP - BOTTOM + GAP) / pitch), 1)
    found = []
    for start in range(0, len(rows), per_page):
        items: list[Item] = [
            Rect(0, 0, width, height, None, "none"),
            *check_bars(7.0, 7.0, scale),
            Text(LEFT, height - 14, words.title, 5.2, bold=True),
            Text(LEFT, height - 20, words.scale_line, 3.0, colour="quiet"),
        ]
        if print_scale is None:
            items.append(Text(width - RIGHT, height - 14, words.loud, 6.4, "end", "madder", bold=True))
        top = height - TOP
        for row in rows[start : start + per_page]:
            top -= row.height * scale
            items += [placed(item, LEFT, top, scale) for item in row.items]
            top -= GAP
        found.append(Drawing(width, height, tuple(items), words.title))
    return found
