"""1:1 strips: true scale on the raster, joints that meet, DXF in millimetres."""

import io
import shutil
import subprocess
from pathlib import Path

import ezdxf
import numpy as np
import pytest
from PIL import Image

from purfling.drawing.clip import between
from purfling.drawing.dxf import to_dxf
from purfling.drawing.shapes import INK, Circle, Drawing, Item, Line, Rect, Text
from purfling.drawing.shapes import Path as Shape
from purfling.drawing.strips import OVERLAP, pages, rows_of
from purfling.papers.bow_strips.build import strip_pdf, strip_words

MM = 25.4 / 600


def long_strip(length: float) -> Drawing:
    items: list[Item] = [Line(0, 20, length, 20, INK)]
    items += [Line(x, 14, x, 20, INK) for x in range(0, int(length) + 1, 10)]
    return Drawing(length, 40.0, tuple(items), "strip")


def raster(pdf: bytes, folder: Path) -> np.ndarray:
    assert shutil.which("pdftoppm"), "pdftoppm (poppler-utils) is needed to measure the print"
    path = folder / "strip.pdf"
    path.write_bytes(pdf)
    words = ["pdftoppm", "-r", "600", "-gray", "-aa", "no", "-aaVector", "no", "-f", "1", "-l", "1"]
    subprocess.run(
        [*words, "-singlefile", str(path), str(folder / "page")], check=True, stderr=subprocess.DEVNULL
    )
    with Image.open(folder / "page.pgm") as image:
        return np.asarray(image) < 100


def longest_run(dark: np.ndarray) -> int:
    """Length [px] of the longest dark run along the rows of a picture."""
    best = 0
    for row in dark:
        edges = np.flatnonzero(np.diff(np.concatenate(([0], row.astype(int), [0]))))
        if len(edges):
            best = max(best, int((edges[1::2] - edges[::2]).max()))
    return best


@pytest.mark.parametrize("paper", ["a4", "us-letter"])
@pytest.mark.parametrize("scale", [None, 1.006])
def test_bars_are_100_mm_times_the_correction(tmp_path: Path, paper: str, scale: float | None) -> None:
    dark = raster(strip_pdf([long_strip(150)], "en", scale, paper), tmp_path)
    wanted = 100.0 * (scale or 1.0)
    foot = dark[-round(8 / MM) : -round(6.5 / MM), :]
    margin = dark[:, round(6.5 / MM) : round(8 / MM)].T
    assert longest_run(foot) * MM == pytest.approx(wanted, abs=0.1)
    assert longest_run(margin) * MM == pytest.approx(wanted, abs=0.1)


def test_uncalibrated_says_so_and_calibrated_does_not() -> None:
    def said(scale: float | None) -> list[str]:
        page = pages(long_strip(100), "a4", strip_words("t", scale, "en"), scale)[0]
        return [i.text for i in page.items if isinstance(i, Text) and i.size > 6]

    assert said(None) == ["not calibrated"]
    assert said(1.0) == []


@pytest.mark.parametrize("length", [150.0, 400.0, 701.0, 733.3])
def test_rows_cover_the_strip_and_meet_at_their_joints(length: float) -> None:
    rows = rows_of(long_strip(length), 170.0, "joint")
    assert all(r.width <= 170.0 + 1e-9 for r in rows)
    assert sum(r.width for r in rows) - OVERLAP * (len(rows) - 1) == pytest.approx(length)
    low = 0.0
    crosses: dict[int, list[float]] = {}
    for i, row in enumerate(rows):
        for item in row.items:
            if isinstance(item, Circle):
                mark = i if item.cx < OVERLAP else i + 1
                crosses.setdefault(mark, []).append(low + item.cx)
        low += row.width - OVERLAP
    assert len(crosses) == len(rows) - 1
    for places in crosses.values():
        assert len(places) == 4
        assert max(places) - min(places) < 1e-9


def test_cutting() -> None:
    items: list[Item] = [
        Line(0, 0, 10, 10),
        Shape(((0.0, 0.0), (10.0, 0.0), (10.0, 4.0), (0.0, 4.0)), closed=True, fill="spruce"),
        Rect(2, 0, 20, 3),
        Text(1, 1, "out"),
        Text(6, 1, "in"),
        Line(7, 0, 7, 5),
        Line(12, 0, 12, 5),
        Shape(((0.0, 0.0), (6.0, 6.0), (0.0, 12.0))),
    ]
    line, shape, rect, text, upright, bent = between(items, 5, 8)
    assert isinstance(line, Line) and (line.x1, line.y1, line.x2, line.y2) == (5, 5, 8, 8)
    assert isinstance(shape, Shape) and {x for x, _ in shape.points} == {5.0, 8.0}
    assert isinstance(rect, Rect) and (rect.x, rect.width) == (5, 3)
    assert isinstance(text, Text) and text.text == "in"
    assert isinstance(upright, Line) and upright.x1 == 7
    assert isinstance(bent, Shape) and bent.points == ((5, 5), (6, 6), (5, 7))


def test_dxf_is_in_millimetres_and_sound() -> None:
    doc = ezdxf.read(io.StringIO(to_dxf(long_strip(300)).decode()))  # type: ignore[attr-defined]
    assert doc.header["$INSUNITS"] == 4
    assert not doc.audit().errors
    ends = [e.dxf.end.x for e in doc.modelspace().query("LINE")]
    assert max(ends) == pytest.approx(300.0)
