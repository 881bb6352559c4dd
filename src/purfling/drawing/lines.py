"""Sentences under a picture: wrapped to its width, one below the other."""

import textwrap
from collections.abc import Sequence

from purfling.drawing.shapes import Item, Text

WIDE = 0.52  # mean width of a letter over the font size; measured 0.50 on plain sentences


def wrapped(lines: Sequence[str], width: float, size: float) -> list[str]:
    """The sentences broken so that none is wider than ``width`` [mm] at a font of ``size`` [mm]."""
    found: list[str] = []
    for line in lines:
        found += textwrap.wrap(line, max(int(width / (WIDE * size)), 10)) or [""]
    return found


def below(rows: Sequence[str], x: float, top: float, size: float) -> list[Item]:
    """Rows of text from ``top`` [mm] downwards, 1.6 font sizes apart."""
    return [Text(x, top - 1.6 * size * i, row, size) for i, row in enumerate(rows)]


def tall(rows: Sequence[str], size: float) -> float:
    """Height that ``below`` takes [mm]."""
    return 1.6 * size * len(rows)
