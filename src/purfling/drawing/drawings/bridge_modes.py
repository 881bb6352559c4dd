"""How a bridge moves: the outline at rest and at the two ends of a swing, one picture for each mode."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from purfling.drawing.drawings.bridge_face import ring_paths
from purfling.drawing.shapes import Drawing, Group, Item, Pen, Text

Array = NDArray[np.float64]
SWING = 0.07  # of the height: how far the picture lets the edge move
GAP = 9.0
REST, ONE, OTHER = Pen("quiet", 0.15, (1.0, 0.7)), Pen("varnish", 0.35), Pen("water", 0.25)


def bridge_modes(
    rings: Sequence[Array],
    shapes: Sequence[Sequence[Array]],
    captions: Sequence[tuple[str, str]],
    title: str,
    wide: float = 170.0,
) -> Drawing:
    """Pictures side by side; ``shapes`` holds for each mode the movement (n, 2) of every ring's points.

    The movement is drawn so that the farthest point goes 7 % of the height; ``captions`` are (name, small
    print).
    """
    low, high = float(rings[0][:, 0].min()), float(rings[0][:, 0].max())
    tall = float(rings[0][:, 1].max())
    swing = SWING * tall
    cell = high - low + 2 * swing + GAP
    scale = min(1.0, wide / (cell * len(shapes)))
    items: list[Item] = []
    foot = 9.0
    for number, (shape, (name, small)) in enumerate(zip(shapes, captions, strict=True)):
        most = max(float(np.hypot(*move.T).max()) for move in shape)
        dx = (number + 0.5) * cell * scale - (low + high) / 2 * scale
        parts: list[Item] = []
        for sign, pen in ((0.0, REST), (-1.0, OTHER), (1.0, ONE)):
            moved = [(r + sign * swing / most * m) * scale for r, m in zip(rings, shape, strict=True)]
            parts += ring_paths(moved, dx, foot + swing * scale, pen, fill=False)
        middle = (number + 0.5) * cell * scale
        items.append(Group(f"mode-{number + 1}", tuple(parts)))
        items.append(Text(middle, 4.6, name, 3.2, "middle"))
        items.append(Text(middle, 1.0, small, 2.4, "middle", "quiet"))
    return Drawing(cell * scale * len(shapes), foot + (tall + 2 * swing) * scale + 1.0, tuple(items), title)
