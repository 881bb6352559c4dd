"""Lines of equal value over triangles (contours.py has those over a grid), joined to polylines."""

import numpy as np
from numpy.typing import NDArray

from purfling.drawing.shapes import Point

Array = NDArray[np.float64]


def contour(points: Array, triangles: NDArray[np.int64], values: Array, level: float) -> list[list[Point]]:
    """Polylines along which a value given at the points (n,) of triangles has one level."""
    v = values - level
    v = np.where(v == 0, 1e-12, v)
    pieces: dict[tuple[int, int], list[tuple[int, int]]] = {}
    for triangle in triangles[np.ptp(np.sign(v)[triangles], axis=1) > 0]:
        cut = [
            (int(min(a, b)), int(max(a, b)))
            for a, b in (triangle[[0, 1]], triangle[[1, 2]], triangle[[2, 0]])
            if v[a] * v[b] < 0
        ]
        pieces.setdefault(cut[0], []).append(cut[1])
        pieces.setdefault(cut[1], []).append(cut[0])

    def place(side: tuple[int, int]) -> Point:
        a, b = side
        t = v[a] / (v[a] - v[b])
        x, y = points[a] + t * (points[b] - points[a])
        return float(x), float(y)

    found: list[list[Point]] = []
    seen: set[tuple[int, int]] = set()
    starts = [side for side, near in pieces.items() if len(near) == 1] + list(pieces)
    for start in starts:
        if start in seen:
            continue
        line = [start]
        seen.add(start)
        while True:
            following = [side for side in pieces[line[-1]] if side not in seen]
            if not following:
                break
            line.append(following[0])
            seen.add(following[0])
        if len(line) > 2 and line[0] in pieces[line[-1]]:
            line.append(start)
        if len(line) > 1:
            found.append([place(side) for side in line])
    return found
