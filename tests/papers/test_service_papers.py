"""The papers of a service: what they say, and true scale on a 600 dpi raster."""

import json
import re
import subprocess
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from tests.conftest import EXAMPLES, Run

Image.MAX_IMAGE_PIXELS = None
DPI = 600
PAGES = {
    "setup-card.pdf",
    "bridge-template.pdf",
    "bridge-template.svg",
    "bridge-template.dxf",
    "service-report.pdf",
    "service.json",
}


def text_of(pdf: Path) -> str:
    done = subprocess.run(["pdftotext", "-layout", str(pdf), "-"], capture_output=True, text=True, check=True)
    return " ".join(done.stdout.split())


def raster(pdf: Path, page: int, folder: Path) -> np.ndarray:
    """One page at 600 dpi as black (True) and white."""
    stem = folder / f"{pdf.stem}-{page}"
    span = ["-f", str(page), "-l", str(page), "-singlefile"]
    plain = ["-r", str(DPI), "-gray", "-aa", "no", "-aaVector", "no"]
    subprocess.run(["pdftoppm", *plain, *span, str(pdf), str(stem)], check=True, capture_output=True)
    with Image.open(stem.with_suffix(".pgm")) as image:
        return np.asarray(image) < 60


def bars(black: np.ndarray) -> tuple[float, float]:
    """Lengths [mm] of the longest solid run along a row and along a column that is at least 0.3 mm thick."""
    thick = int(0.3 / 25.4 * DPI)

    def is_solid(rows: np.ndarray, i: int, middle: int) -> bool:
        column = rows[max(0, i - 3 * thick) : i + 3 * thick, middle]
        padded = np.diff(np.concatenate(([0], column.astype(np.int8), [0])))
        starts, ends = np.flatnonzero(padded == 1), np.flatnonzero(padded == -1)
        return bool((ends - starts).max() >= thick)

    def longest(rows: np.ndarray) -> float:
        best = 0
        for i in np.flatnonzero(rows.sum(axis=1) > 80 / 25.4 * DPI):
            edges = np.flatnonzero(np.diff(np.concatenate(([0], rows[i].astype(np.int8), [0]))))
            for start, end in zip(edges[::2], edges[1::2], strict=True):
                if end - start > best and is_solid(rows, int(i), int(start + end) // 2):
                    best = int(end - start)
        return best / DPI * 25.4

    return longest(black), longest(black.T)


@pytest.fixture(scope="module")
def pages(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """The papers of the three examples, made once."""
    from purfling.cli.main import main

    made: dict[str, Path] = {}
    for family in ("violin", "viola", "cello"):
        out = tmp_path_factory.mktemp(family)
        assert main(["service", str(EXAMPLES / f"{family}.toml"), "-o", str(out)]) == 0
        made[family] = out
    return made


@pytest.mark.parametrize("family", ["violin", "viola", "cello"])
def test_every_page_is_written_and_nothing_else(pages: dict[str, Path], family: str) -> None:
    assert {p.name for p in pages[family].iterdir()} == PAGES


def test_card_template_and_report_say_what_they_show(pages: dict[str, Path]) -> None:
    out = pages["violin"]
    card = text_of(out / "setup-card.pdf")
    assert "as found" in card and "wished" in card
    assert "Bridge goes DOWN 0.6 mm" in card
    assert "from memory" in card
    template = text_of(out / "bridge-template.pdf")
    assert "crown line" in template and "notch line" in template and "not calibrated" in template
    report = text_of(out / "service-report.pdf")
    assert "Ready Wed 02.12. 14:00" in report
    assert "the post may fall" in report
    assert "local rules" in report


def page_sizes(pdf: Path) -> list[tuple[float, float]]:
    import pikepdf

    with pikepdf.open(pdf) as doc:
        return [tuple(round(float(v) / 72 * 25.4, 1) for v in p.mediabox[2:]) for p in doc.pages]  # type: ignore[misc]


@pytest.mark.parametrize("family", ["violin", "viola", "cello"])
def test_template_has_a4_then_letter_both_upright(pages: dict[str, Path], family: str) -> None:
    assert page_sizes(pages[family] / "bridge-template.pdf") == [(210.0, 297.0), (215.9, 279.4)]


@pytest.mark.parametrize("sheet", [1, 2])
@pytest.mark.parametrize("family", ["violin", "cello"])
def test_template_bars_measure_100_mm_on_the_raster(
    pages: dict[str, Path], family: str, sheet: int, tmp_path: Path
) -> None:
    along, up = bars(raster(pages[family] / "bridge-template.pdf", sheet, tmp_path))
    assert along == pytest.approx(100.0, abs=0.1)
    assert up == pytest.approx(100.0, abs=0.1)


@pytest.mark.parametrize("paper", ["setup-card.pdf", "service-report.pdf"])
def test_every_print_carries_the_bars(pages: dict[str, Path], paper: str, tmp_path: Path) -> None:
    along, up = bars(raster(pages["violin"] / paper, 1, tmp_path))
    assert along == pytest.approx(100.0, abs=0.1)
    assert up == pytest.approx(100.0, abs=0.1)


def test_print_scale_draws_everything_larger(purfling: Callable[..., Run], tmp_path: Path) -> None:
    out = tmp_path / "scaled"
    assert purfling("service", EXAMPLES / "violin.toml", "-o", out, "--print-scale", "1.006").code == 0
    along, up = bars(raster(out / "bridge-template.pdf", 1, tmp_path))
    assert along == pytest.approx(100.6, abs=0.1)
    assert up == pytest.approx(100.6, abs=0.1)
    text = text_of(out / "bridge-template.pdf")
    assert "not calibrated" not in text and "1.006" in text
    svg = (out / "bridge-template.svg").read_text()
    width = float(re.search(r'width="([0-9.]+)mm"', svg).group(1))  # type: ignore[union-attr]
    box = float(re.search(r'viewBox="0 0 ([0-9.]+) ', svg).group(1))  # type: ignore[union-attr]
    assert width / box == pytest.approx(1.006, rel=1e-4)


def test_svg_is_in_millimetres_and_its_crown_line_has_the_crown_heights(pages: dict[str, Path]) -> None:
    svg = (pages["violin"] / "bridge-template.svg").read_text()
    answer = json.loads((pages["violin"] / "service.json").read_text())
    height = float(re.search(r'viewBox="0 0 [0-9.]+ ([0-9.]+)"', svg).group(1))  # type: ignore[union-attr]
    assert re.search(r'width="[0-9.]+mm" height="[0-9.]+mm"', svg)
    path = re.search(r'<path id="crown-line" d="M([^"]+)"', svg)
    assert path
    points = np.array([[float(v) for v in p.split()] for p in path.group(1).split("L")])
    x, y = points[:, 0] - 96.0, height - points[:, 1] - 52.0
    for string in answer["results"]["wished"]["strings"]:
        there = float(np.interp(string["lateral_mm"], x, y))
        assert there == pytest.approx(string["crown_height_mm"], abs=0.1)


def test_dxf_is_in_millimetres_and_sound(pages: dict[str, Path]) -> None:
    import ezdxf

    doc = ezdxf.readfile(pages["violin"] / "bridge-template.dxf")
    assert doc.header["$INSUNITS"] == 4
    assert not doc.audit().errors
    lines = [e for e in doc.modelspace() if e.dxf.layer == "crown-line"]
    assert len(lines) == 1
    points = np.array([p[:2] for p in lines[0].get_points()])  # type: ignore[attr-defined]
    assert points[:, 0].max() - points[:, 0].min() == pytest.approx(33.5 + 6.0, abs=0.01)


def test_same_slip_same_bytes(purfling: Callable[..., Run], pages: dict[str, Path], tmp_path: Path) -> None:
    again = tmp_path / "again"
    assert purfling("service", EXAMPLES / "violin.toml", "-o", again).code == 0
    for page in PAGES:
        assert (again / page).read_bytes() == (pages["violin"] / page).read_bytes(), page


def test_german_pages(purfling: Callable[..., Run], tmp_path: Path) -> None:
    assert purfling("service", EXAMPLES / "cello.toml", "-o", tmp_path / "de", "--lang", "de").code == 0
    assert "NIEDRIGER" in text_of(tmp_path / "de" / "setup-card.pdf")
    assert "nicht kalibriert" in text_of(tmp_path / "de" / "bridge-template.pdf")
