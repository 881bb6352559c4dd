"""The sheets of a dressing: true scale on the raster, templates that are the plan, words on every page."""

import io
import re
import shutil
import subprocess
import tomllib
from pathlib import Path
from typing import Any

import ezdxf
import numpy as np
import pytest
from PIL import Image

from purfling.papers.dressing.build import dressing_files
from purfling.reckonings.dressing.compute import DressingCase, compute
from purfling.reckonings.dressing.pictures import removal_drawing, section_drawing, template_drawings
from purfling.slips.reader import check_slip

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
MM = 25.4 / 600


def case_of(**changes: Any) -> DressingCase:
    tables = tomllib.loads((EXAMPLES / "dressing.toml").read_text())
    for name, keys in changes.items():
        tables[name] = {**tables.get(name, {}), **keys}
    return compute(check_slip(tables))


@pytest.fixture(scope="module")
def case() -> DressingCase:
    return case_of()


@pytest.fixture(scope="module")
def files(case: DressingCase) -> dict[str, bytes]:
    return dressing_files(case)


def raster(pdf: bytes, folder: Path, page: int = 1) -> np.ndarray:
    assert shutil.which("pdftoppm"), "pdftoppm (poppler-utils) is needed to measure the print"
    path = folder / "sheet.pdf"
    path.write_bytes(pdf)
    words = [
        "pdftoppm",
        "-r",
        "600",
        "-gray",
        "-aa",
        "no",
        "-aaVector",
        "no",
        "-f",
        str(page),
        "-l",
        str(page),
    ]
    subprocess.run([*words, "-singlefile", path, folder / "page"], check=True, stderr=subprocess.DEVNULL)
    with Image.open(folder / "page.pgm") as image:
        return np.asarray(image) < 100


def longest_run(dark: np.ndarray) -> int:
    best = 0
    for row in dark:
        edges = np.flatnonzero(np.diff(np.concatenate(([0], row.astype(int), [0]))))
        if len(edges):
            best = max(best, int((edges[1::2] - edges[::2]).max()))
    return best


def texts(pdf: bytes, folder: Path) -> list[str]:
    path = folder / "words.pdf"
    path.write_bytes(pdf)
    done = subprocess.run(["pdftotext", path, "-"], check=True, capture_output=True, text=True)
    return done.stdout.split("\f")[:-1]


@pytest.mark.parametrize(
    ("name", "number"), [("dressing.pdf", 1), ("dressing.pdf", 2), ("dressing-templates.pdf", 1)]
)
def test_bars_measure_100_mm(files: dict[str, bytes], tmp_path: Path, name: str, number: int) -> None:
    dark = raster(files[name], tmp_path, number)
    foot = dark[-round(9 / MM) :, :]
    margin = dark[:, : round(9 / MM)].T
    assert longest_run(foot) * MM == pytest.approx(100.0, abs=0.1)
    assert longest_run(margin) * MM == pytest.approx(100.0, abs=0.1)


def test_map_is_to_scale_on_the_sheet(case: DressingCase, files: dict[str, bytes], tmp_path: Path) -> None:
    """The board's outline on the page: 270 mm at the scale the map states."""
    dark = raster(files["dressing.pdf"], tmp_path)
    svg = files["dressing-map.svg"].decode()
    scale = float(re.search(r"drawn ([0-9.]+) : 1", svg).group(1))  # type: ignore[union-attr]
    line = dark[round(80 / MM) : round(100 / MM), :]
    assert longest_run(line) * MM == pytest.approx(270.0 * scale, abs=0.4)


def test_caution_on_every_page(files: dict[str, bytes], tmp_path: Path) -> None:
    for name in ("dressing.pdf", "dressing-templates.pdf"):
        pages = texts(files[name], tmp_path)
        assert len(pages) >= 3
        assert all("dust" in page.lower() for page in pages)
    for name, data in files.items():
        if name.endswith(".svg"):
            assert b"dust" in data


def test_not_calibrated_in_large_type_unless_told(
    case: DressingCase, files: dict[str, bytes], tmp_path: Path
) -> None:
    scaled = dressing_files(case, print_scale=1.006)
    assert all("not calibrated" in page for page in texts(files["dressing-templates.pdf"], tmp_path))
    assert not any("not calibrated" in page for page in texts(scaled["dressing-templates.pdf"], tmp_path))
    assert b"not calibrated" in files["arcs.svg"] and b"not calibrated" not in scaled["arcs.svg"]
    width = [float(re.search(rb'width="([0-9.]+)mm"', f["arcs.svg"]).group(1)) for f in (files, scaled)]  # type: ignore[union-attr]
    assert width[1] / width[0] == pytest.approx(1.006, abs=1e-5)


def test_arcs_are_the_planned_radii(case: DressingCase, files: dict[str, bytes]) -> None:
    assert case.plan is not None
    doc = ezdxf.read(io.StringIO(files["arcs.dxf"].decode()))
    assert doc.header["$INSUNITS"] == 4
    arcs = {a.dxf.layer: a.dxf.radius for a in doc.modelspace().query("ARC")}
    assert arcs["arc-nut"] == pytest.approx(case.plan.radius_nut_mm)
    assert arcs["arc-end"] == pytest.approx(case.plan.radius_end_mm)
    bars = [e for e in doc.modelspace() if e.dxf.layer == "check-bars" and e.dxftype() == "LWPOLYLINE"]
    sides = sorted(max(np.ptp(np.array(b.get_points("xy")), axis=0)) for b in bars)
    assert sides == pytest.approx([100.0, 100.0])


def test_scoop_strips_are_the_planned_scoops(case: DressingCase, files: dict[str, bytes]) -> None:
    for name, k in (("scoop-low", 0), ("scoop-high", -1)):
        doc = ezdxf.read(io.StringIO(files[f"{name}.dxf"].decode()))
        (line,) = [e for e in doc.modelspace() if e.dxf.layer == name]
        points = np.array(line.get_points("xy"))
        assert np.ptp(points[:, 0]) == pytest.approx(270.0)
        low = points[: len(points) - 2]
        straight = np.interp(low[:, 0], low[[0, -1], 0], low[[0, -1], 1])
        deepest = float((straight - low[:, 1]).max())
        assert deepest == pytest.approx(case.answer.results["scoop_mm"][k], abs=5e-3)
        assert f'id="{name}"'.encode() in files[f"{name}.svg"]


def test_arc_with_a_flat_has_its_tangent() -> None:
    case = case_of(board={"flat_low_mm": 8.0})
    doc = ezdxf.read(io.StringIO(dressing_files(case)["arcs.dxf"].decode()))
    assert case.plan is not None
    r = case.plan.radius_end_mm
    (line,) = [e for e in doc.modelspace().query("LINE") if e.dxf.layer == "arc-end"]
    slope = (line.dxf.end.y - line.dxf.start.y) / (line.dxf.end.x - line.dxf.start.x)
    assert slope == pytest.approx(8.0 / np.sqrt(r * r - 64.0), abs=1e-6)


def test_map_shows_the_removal(case: DressingCase) -> None:
    from purfling.drawing.shapes import Text, flatten

    said = {i.text for i in flatten(removal_drawing(case).items) if isinstance(i, Text)}
    deepest = case.answer.results["max_removal_mm"]
    assert f"{deepest * 100:.0f}" in said
    assert "bass side" in said and "treble side" in said


def test_section_says_how_much_it_is_stretched(case: DressingCase) -> None:
    from purfling.drawing.shapes import Text, flatten

    items = flatten(section_drawing(case).items)
    said = next(i.text for i in items if isinstance(i, Text) and "stretched" in i.text)
    times = int(re.search(r"stretched (\d+) times", said).group(1))  # type: ignore[union-attr]
    # The bar of half a millimetre beside each panel is drawn that much longer than the length's scale.
    from purfling.drawing.drawings.removal_map import map_scale
    from purfling.drawing.shapes import Line

    bars = [i for i in items if isinstance(i, Line) and i.x1 == i.x2 and i.pen.width == 0.3]
    assert abs(bars[0].y1 - bars[0].y2) == pytest.approx(0.5 * times * map_scale(270.0))


def test_same_case_same_bytes(case: DressingCase, files: dict[str, bytes]) -> None:
    assert dressing_files(case) == files


def test_german_sheets(case: DressingCase, tmp_path: Path) -> None:
    pages = texts(dressing_files(case, "de", 1.0, "us-letter")["dressing.pdf"], tmp_path)
    assert "Griffbretts" in pages[0] and "Staub" in pages[0]
    assert "6. Dann der Sattel" in pages[0]  # the planing order is whole on the first page


def test_without_a_plan_the_sheet_says_why(tmp_path: Path) -> None:
    blocked = dressing_files(
        case_of(edge={"bass_mm": 4.0, "treble_mm": 4.0}, wish={"projection_loss_max_mm": 0.0})
    )
    assert set(blocked) == {"dressing.pdf", "dressing.json"}
    assert "must become" in texts(blocked["dressing.pdf"], tmp_path)[0]
    referred = dressing_files(case_of(asked={"neck_straight": False}))
    assert "Refer first" in texts(referred["dressing.pdf"], tmp_path)[0]


def test_a_cello_strip_goes_over_several_rows(case: DressingCase) -> None:
    from purfling.drawing.strips import rows_of

    strip = template_drawings(case)["scoop-low"]
    rows = rows_of(strip, 170.0, "joint")
    assert len(rows) == 2 and all(row.width <= 170.0 for row in rows)
