"""The bridge sheet on paper: check bars and bridge at true size, changes only in per cent."""

import subprocess
from pathlib import Path

import numpy as np
import pytest

from purfling.papers.bridge_sheet.build import bridge_files
from purfling.reckonings.bridge.compute import compute
from purfling.slips.reader import check_slip

DPI = 300
COARSE = {"mesh": {"boundary_mm": 1.0, "inside_mm": 2.5}}


def rastered(folder: Path, pdf: bytes) -> list[np.ndarray]:
    """The pages as arrays of grey, 300 dots an inch."""
    (folder / "sheet.pdf").write_bytes(pdf)
    subprocess.run(
        ["pdftoppm", "-gray", "-r", str(DPI), "-aa", "no", "-aaVector", "no", "sheet.pdf", "p"],
        cwd=folder,
        check=True,
        capture_output=True,
    )
    pages = []
    for path in sorted(folder.glob("p-*.pgm")):
        data = path.read_bytes()
        head, size, depth, rest = data.split(b"\n", 3)
        assert (head, depth) == (b"P5", b"255")
        width, height = (int(v) for v in size.split())
        pages.append(np.frombuffer(rest, dtype=np.uint8).reshape(height, width))
    return pages


def longest_run(line: np.ndarray) -> int:
    """Longest run of black along a row."""
    edges = np.flatnonzero(np.diff(np.concatenate([[0], (line < 60).astype(int), [0]])))
    return int((edges[1::2] - edges[::2]).max()) if len(edges) else 0


@pytest.mark.parametrize("family", ["violin", "cello"])
def test_both_check_bars_measure_a_hundred_millimetres_on_every_page(tmp_path: Path, family: str) -> None:
    mesh = COARSE if family == "violin" else {"mesh": {"boundary_mm": 2.0, "inside_mm": 5.0}}
    case = compute(check_slip({"outline": {"family": family}, **mesh}))
    pages = rastered(tmp_path, bridge_files(case, "en")["bridge-sheet.pdf"])
    assert len(pages) >= 2
    expected = 100 / 25.4 * DPI
    for page in pages:
        foot = page[-int(12 / 25.4 * DPI) :]
        assert max(longest_run(row) for row in foot) == pytest.approx(expected, abs=2)
        margin = page[:, : int(12 / 25.4 * DPI)].T
        assert max(longest_run(column) for column in margin) == pytest.approx(expected, abs=2)


def test_bridge_is_printed_at_true_size(tmp_path: Path) -> None:
    case = compute(check_slip({"outline": {"foot_span_mm": 41.0}, **COARSE}))
    page = rastered(tmp_path, bridge_files(case, "en")["bridge-sheet.pdf"])[0]
    soles = [row for row in page[: page.shape[0] // 2] if np.count_nonzero(row < 60) > 200]
    widths = [np.ptp(np.flatnonzero(row < 60)) for row in soles]
    # the widest rows are the rule under the title, then the sole line with the edge's foot beside it
    dots = 41.0 / 25.4 * DPI
    assert any(_holds_span(row, dots) for row in soles), widths[:5]


def _holds_span(row: np.ndarray, dots: float) -> bool:
    """Whether a row shows two soles, outer ends 41 mm apart, with a gap between."""
    black = np.flatnonzero(row < 60)
    groups = np.split(black, np.flatnonzero(np.diff(black) > 30) + 1)
    return any(
        abs(groups[k + 1][-1] - groups[k][0] - dots) < 8 and len(groups[k]) > 100 and len(groups[k + 1]) > 100
        for k in range(len(groups) - 1)
    )


def text_of(folder: Path, pdf: bytes) -> str:
    (folder / "text.pdf").write_bytes(pdf)
    done = subprocess.run(
        ["pdftotext", "-layout", "text.pdf", "-"], cwd=folder, check=True, capture_output=True
    )
    return done.stdout.decode("utf-8")


def test_sheet_shows_hertz_only_once_one_was_measured(tmp_path: Path) -> None:
    bare = text_of(tmp_path, bridge_files(compute(check_slip(COARSE)), "en")["bridge-sheet.pdf"])
    assert " %" in bare and " Hz" not in bare.replace("rocking_hz", "") and "per cent" in bare
    tapped = compute(check_slip({"measured": {"rocking_hz": 3000.0}, **COARSE}))
    assert "3000 Hz" in text_of(tmp_path, bridge_files(tapped, "en")["bridge-sheet.pdf"])


def test_sheet_and_pictures_speak_german(tmp_path: Path) -> None:
    files = bridge_files(compute(check_slip(COARSE)), "de")
    assert "Stegblatt" in text_of(tmp_path, files["bridge-sheet.pdf"])
    assert "Taille" in files["bridge-cuts.svg"].decode()
    assert "Bass" in files["bridge-face.svg"].decode()


def test_face_is_drawn_from_the_thickness_it_shows() -> None:
    files = bridge_files(compute(check_slip(COARSE)), "en")
    svg = files["bridge-face.svg"].decode()
    assert ">4.3<" in svg and ">1.3<" in svg and ">41.0<" in svg
    assert svg.count('id="thickness"') == 1 and ">2.5<" in svg
