"""Closed rings from an SVG: paths, polygons, polylines, rectangles, circles, ellipses, with transforms."""

import math
import re
from xml.etree import ElementTree

import numpy as np
from numpy.typing import NDArray

from purfling.craft.refusals import Refusal

Points = NDArray[np.float64]
Matrix = NDArray[np.float64]
STEPS = 24  # pieces of a curve
UNITS = {"": 25.4 / 96, "px": 25.4 / 96, "mm": 1.0, "cm": 10.0, "in": 25.4, "pt": 25.4 / 72, "pc": 25.4 / 6}
NUMBER = re.compile(r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?")
COMMANDS = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2, "A": 7, "Z": 0}
SKIPPED = {"defs", "symbol", "clipPath", "mask", "pattern", "marker", "text", "metadata"}


def rings_from_svg(text: str, name: str) -> list[Points]:
    """Closed rings [mm], y up; width, height and viewBox give the scale (96 units an inch without).

    Raises
    ------
    Refusal
        No SVG, or nothing closed in it.
    """
    if "<!ENTITY" in text or (
        "<!DOCTYPE" in text.upper().split("<SVG")[0] and "[" in text.split("<svg", maxsplit=1)[0]
    ):
        raise Refusal("bridge.no_drawing", path=name)
    try:
        root = ElementTree.fromstring(text)
        if _tag(root) != "svg":
            raise Refusal("bridge.no_drawing", path=name)
        rings: list[Points] = []
        _collect(root, _page(root), rings)
    except (ElementTree.ParseError, ValueError, IndexError, RecursionError) as wrong:
        raise Refusal("bridge.no_drawing", path=name) from wrong
    if not rings:
        raise Refusal("bridge.no_drawing", path=name)
    return [r * np.array([1.0, -1.0]) for r in rings]


def _tag(element: ElementTree.Element) -> str:
    return str(element.tag).rsplit("}", 1)[-1]


def _length(text: str | None) -> float | None:
    if text is None:
        return None
    found = NUMBER.match(text.strip())
    if found is None:
        return None
    unit = text.strip()[found.end() :].strip()
    return float(found.group()) * UNITS[unit] if unit in UNITS else None


def _page(root: ElementTree.Element) -> Matrix:
    """Drawing units to millimetres."""
    box = [float(v) for v in NUMBER.findall(root.get("viewBox", ""))]
    width, height = _length(root.get("width")), _length(root.get("height"))
    if len(box) == 4 and box[2] > 0 and box[3] > 0:
        sx = width / box[2] if width else None
        sy = height / box[3] if height else None
        scale = min(v for v in (sx, sy) if v is not None) if sx or sy else UNITS["px"]
    else:
        scale = UNITS["px"]
    return np.diag([scale, scale, 1.0])


def _transform(text: str | None) -> Matrix:
    total = np.eye(3)
    for kind, inside in re.findall(r"(\w+)\s*\(([^)]*)\)", text or ""):
        v = [float(n) for n in NUMBER.findall(inside)]
        one = np.eye(3)
        if kind == "matrix":
            one[:2] = np.array(v[:6]).reshape(3, 2).T
        elif kind == "translate":
            one[:2, 2] = v[0], v[1] if len(v) > 1 else 0.0
        elif kind == "scale":
            one[0, 0], one[1, 1] = v[0], v[1] if len(v) > 1 else v[0]
        elif kind == "rotate":
            c, s = math.cos(math.radians(v[0])), math.sin(math.radians(v[0]))
            one[:2, :2] = [[c, -s], [s, c]]
            if len(v) > 2:
                about = np.array(v[1:3])
                one[:2, 2] = about - one[:2, :2] @ about
        elif kind in ("skewX", "skewY"):
            one[(0, 1) if kind == "skewX" else (1, 0)] = math.tan(math.radians(v[0]))
        total = total @ one
    return total


def _collect(element: ElementTree.Element, matrix: Matrix, rings: list[Points]) -> None:
    for child in element:
        tag = _tag(child)
        if tag in SKIPPED or child.get("display") == "none":
            continue
        inner = matrix @ _transform(child.get("transform"))
        for ring in _shape(tag, child):
            if len(ring) >= 3:
                rings.append(ring @ inner[:2, :2].T + inner[:2, 2])
        _collect(child, inner, rings)


def _shape(tag: str, e: ElementTree.Element) -> list[Points]:
    def get(key: str) -> float:
        return float(NUMBER.findall(e.get(key, "0"))[0])

    if tag == "path":
        return path_rings(e.get("d", ""))
    if tag in ("polygon", "polyline"):
        values = np.array([float(n) for n in NUMBER.findall(e.get("points", ""))])
        points = values[: len(values) // 2 * 2].reshape(-1, 2)
        closed = tag == "polygon" or (len(points) > 3 and bool(np.allclose(points[0], points[-1])))
        return [points] if closed else []
    if tag == "rect":
        x, y, w, h = get("x"), get("y"), get("width"), get("height")
        return [np.array([[x, y], [x + w, y], [x + w, y + h], [x, y + h]])]
    if tag in ("circle", "ellipse"):
        rx, ry = (get("r"), get("r")) if tag == "circle" else (get("rx"), get("ry"))
        t = np.linspace(0, 2 * math.pi, 8 * STEPS, endpoint=False)
        return [np.column_stack([get("cx") + rx * np.cos(t), get("cy") + ry * np.sin(t)])]
    return []


def _words(d: str) -> list[tuple[str, list[float]]]:
    found: list[tuple[str, list[float]]] = []
    for letter, rest in re.findall(r"([MmLlHhVvCcSsQqTtAaZz])([^MmLlHhVvCcSsQqTtAaZz]*)", d):
        size = COMMANDS[letter.upper()]
        numbers = _arc_numbers(rest) if letter in "Aa" else [float(n) for n in NUMBER.findall(rest)]
        if size == 0:
            found.append((letter, []))
        for begin in range(0, len(numbers) // max(size, 1) * size, max(size, 1)):
            again = {"M": "L", "m": "l"}.get(letter, letter) if begin else letter
            found.append((again, numbers[begin : begin + size]))
    return found


def _arc_numbers(text: str) -> list[float]:
    """Numbers of an arc; its two flags may stand without a space."""
    found: list[float] = []
    at = 0
    while True:
        while at < len(text) and text[at] in " ,\t\r\n":
            at += 1
        if at >= len(text):
            return found
        if len(found) % 7 in (3, 4):
            found.append(float(int(text[at])))
            at += 1
            continue
        match = NUMBER.match(text, at)
        if match is None:
            raise ValueError(text)
        found.append(float(match.group()))
        at = match.end()


class _Pen:
    """Where a path's pen stands: ``at``, the ring's ``start``, the last control point."""

    def __init__(self) -> None:
        self.at = np.zeros(2)
        self.start = np.zeros(2)
        self.control = np.zeros(2)
        self.last = ""
        self.ring: list[Points] = []
        self.rings: list[Points] = []

    def finish(self, closed: bool) -> None:
        """End the ring; kept when closed or back at its start."""
        if len(self.ring) > 3 and (closed or bool(np.allclose(self.ring[0], self.ring[-1], atol=1e-3))):
            points = np.array(self.ring)
            self.rings.append(points[:-1] if np.allclose(points[0], points[-1], atol=1e-9) else points)
        elif len(self.ring) == 3 and closed:
            self.rings.append(np.array(self.ring))
        self.ring = []

    def curve(self, points: list[Points]) -> None:
        """A Bezier curve of the second or third order from where the pen stands."""
        t = np.linspace(0, 1, STEPS + 1)[1:, None]
        nodes = [self.at, *points]
        degree = len(nodes) - 1
        total = sum(math.comb(degree, k) * (1 - t) ** (degree - k) * t**k * p for k, p in enumerate(nodes))
        self.ring += list(np.asarray(total))
        self.control, self.at = points[-2], points[-1]

    def arc(self, rx: float, ry: float, turn: float, large: bool, sweep: bool, end: Points) -> None:
        """An elliptical arc by its ends (SVG 1.1, appendix F.6)."""
        c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
        rotate = np.array([[c, s], [-s, c]])
        x, y = rotate @ (self.at - end) / 2
        rx, ry = abs(rx), abs(ry)
        if rx == 0 or ry == 0 or (x == 0 and y == 0):
            self.ring.append(end)
            self.at = end
            return
        grow = math.sqrt(max(1.0, (x / rx) ** 2 + (y / ry) ** 2))
        rx, ry = rx * grow, ry * grow
        under = max(0.0, (rx * ry) ** 2 - (rx * y) ** 2 - (ry * x) ** 2) / ((rx * y) ** 2 + (ry * x) ** 2)
        k = math.sqrt(under) * (-1 if large == sweep else 1)
        middle = np.array([k * rx * y / ry, -k * ry * x / rx])
        begin = math.atan2((y - middle[1]) / ry, (x - middle[0]) / rx)
        stop = math.atan2((-y - middle[1]) / ry, (-x - middle[0]) / rx)
        span = (stop - begin) % (2 * math.pi) - (0 if sweep else 2 * math.pi)
        t = begin + span * np.linspace(0, 1, 2 * STEPS + 1)[1:]
        points = np.column_stack([middle[0] + rx * np.cos(t), middle[1] + ry * np.sin(t)])
        self.ring += list(points @ rotate + (self.at + end) / 2)
        self.at = end


def path_rings(d: str) -> list[Points]:
    """Closed rings of a path's data, curves in straight pieces (units of the drawing)."""
    pen = _Pen()
    for letter, v in _words(d):
        upper = letter.upper()
        base = pen.at.copy() if letter.islower() else np.zeros(2)
        if upper == "Z":
            pen.finish(True)
            pen.at = pen.start.copy()
        elif upper == "M":
            pen.finish(False)
            pen.at = base + np.array(v)
            pen.start = pen.at.copy()
            pen.ring = [pen.at]
        else:
            if not pen.ring:
                pen.ring = [pen.at]
            _draw(pen, upper, v, base)
        pen.last = upper
    pen.finish(False)
    return pen.rings


def _draw(pen: _Pen, upper: str, v: list[float], base: Points) -> None:
    pairs = [base + np.array(v[k : k + 2]) for k in range(0, len(v) - 1, 2)]
    if upper in "LHV":
        if upper == "L":
            pen.at = pairs[0]
        else:
            axis = 0 if upper == "H" else 1
            pen.at = pen.at.copy()
            pen.at[axis] = base[axis] + v[0]
        pen.ring.append(pen.at)
    elif upper == "A":
        pen.arc(v[0], v[1], v[2], bool(v[3]), bool(v[4]), base + np.array(v[5:7]))
    else:
        mirrored = 2 * pen.at - pen.control if pen.last in ("CS" if upper == "S" else "QT") else pen.at
        pen.curve([mirrored, *pairs] if upper in "ST" else pairs)
