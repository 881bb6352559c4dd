"""Face and edge of a bridge at 1:1 with lines of equal thickness."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from purfling.drawing.isolines import contour
from purfling.drawing.shapes import (
    AXIS,
    INK,
    QUIET,
    Circle,
    Drawing,
    Group,
    Item,
    Line,
    Path,
    Pen,
    Text,
    dimension,
)

Array = NDArray[np.float64]
MARGIN = 16.0
LEVEL_STEPS = (0.1, 0.2, 0.25, 0.5, 1.0, 2.0)


def ring_paths(rings: Sequence[Array], dx: float, dy: float, pen: Pen = INK, fill: bool = True) -> list[Item]:
    """The outline (wood) and its holes (paper) moved by (dx, dy) [mm]."""
    items: list[Item] = []
    for number, ring in enumerate(rings):
        points = tuple((float(x) + dx, float(y) + dy) for x, y in ring)
        colour = ("spruce" if number == 0 else "paper") if fill else "none"
        items.append(Path(points, pen, True, colour))  # type: ignore[arg-type]
    return items


def levels(values: Array, most: int = 7) -> list[float]:
    """Round thicknesses between the least and the greatest, at most about ``most``."""
    low, high = float(values.min()), float(values.max())
    step = next((s for s in LEVEL_STEPS if (high - low) / s <= most), LEVEL_STEPS[-1])
    first = np.ceil(low / step + 1e-9) * step
    return [float(v) for v in np.arange(first, high - 1e-9, step)]


def bridge_face(
    rings: Sequence[Array],
    mesh_points: Array,
    triangles: NDArray[np.int64],
    thickness: Array,
    edge: Array,
    centre: tuple[float, float],
    waist_mm: float | None,
    words: dict[str, str],
    decimal: str = ".",
) -> Drawing:
    """The face at 1:1 with lines of equal thickness, and beside it the edge (back straight, front as it is).

    ``edge`` is (n, 2): height and thickness in the middle [mm]; ``centre`` of mass; ``words``: title,
    bass, treble, back, front.
    """

    def figure(value: float, decimals: int = 1) -> str:
        return f"{value:.{decimals}f}".replace(".", decimal)

    outer = rings[0]
    low, high = float(outer[:, 0].min()), float(outer[:, 0].max())
    tall, thick = float(outer[:, 1].max()), float(edge[:, 1].max())
    dx, dy = MARGIN - low, MARGIN
    items: list[Item] = [Group("wood", tuple(ring_paths(rings, dx, dy)))]
    lines: list[Item] = []
    for level in levels(thickness):
        text = figure(level, 2 if round(level * 20) % 2 else 1)
        for run in contour(mesh_points, triangles, thickness, level):
            points = tuple((x + dx, y + dy) for x, y in run)
            lines.append(Path(points, Pen("water", 0.15)))
        longest = max(contour(mesh_points, triangles, thickness, level), key=len, default=[])
        if longest:
            x, y = longest[len(longest) // 2]
            lines.append(Text(x + dx, y + dy + 0.4, text, 1.9, "middle", "water"))
    items.append(Group("thickness", tuple(lines)))
    cx, cy = centre[0] + dx, centre[1] + dy
    cross = [Line(cx - 1.5, cy, cx + 1.5, cy, QUIET), Line(cx, cy - 1.5, cx, cy + 1.5, QUIET)]
    items.append(Group("balance", (Circle(cx, cy, 0.8, QUIET), *cross)))
    if waist_mm is not None:
        items.append(Line(MARGIN - 3, waist_mm + dy, MARGIN + high - low + 3, waist_mm + dy, AXIS))
    side = MARGIN + high - low + 14.0
    shape = [(side, dy), (side, dy + tall)]
    shape += [(side + float(h), dy + float(y)) for y, h in edge[::-1]]
    items.append(Group("edge", (Path(tuple(shape), INK, True, "spruce"),)))
    items += dimension((low + dx, dy), (high + dx, dy), figure(high - low), -5.0, 2.6)
    items += dimension((MARGIN, dy), (MARGIN, dy + tall), figure(tall), 6.0, 2.6)
    items += dimension((side, dy), (side + float(edge[0, 1]), dy), figure(float(edge[0, 1])), -5.0, 2.6)
    items.append(
        Text(side + float(edge[-1, 1]) / 2, dy + tall + 1.5, figure(float(edge[-1, 1])), 2.6, "middle")
    )
    items += [
        Text(MARGIN, dy - 9.5, words["bass"], 2.6, "start", "quiet"),
        Text(MARGIN + high - low, dy - 9.5, words["treble"], 2.6, "end", "quiet"),
        Text(side - 1.2, dy + tall / 2, words["back"], 2.4, "middle", "quiet", turn=90.0),
        Text(side + thick + 3.0, dy + tall / 2, words["front"], 2.4, "middle", "quiet", turn=90.0),
    ]
    return Drawing(side + thick + 12.0, tall + dy + 8.0, tuple(items), words["title"])
