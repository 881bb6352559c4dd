"""The bow sheet: what it says, and that its drawing is to scale."""

import re
import subprocess
from pathlib import Path

import pytest

from purfling.drawing.shapes import Line, Text
from purfling.drawing.shapes import Path as Shape
from purfling.papers.bow_sheet.build import bow_sheet
from purfling.reckonings.bow.compute import BowCase, compute
from purfling.reckonings.bow.pictures import camber, reach, side, strip
from purfling.slips.reader import read_slip

EXAMPLE = Path(__file__).resolve().parents[2] / "examples" / "bow.toml"


@pytest.fixture(scope="module")
def case() -> BowCase:
    return compute(read_slip(EXAMPLE))


def text_of(pdf: bytes, folder: Path) -> str:
    path = folder / "sheet.pdf"
    path.write_bytes(pdf)
    done = subprocess.run(
        ["pdftotext", "-layout", str(path), "-"], capture_output=True, text=True, check=True
    )
    return done.stdout


@pytest.mark.parametrize("paper", ["a4", "us-letter"])
def test_sheet_says_weight_balance_datum_and_state(case: BowCase, tmp_path: Path, paper: str) -> None:
    said = text_of(bow_sheet(case, "en", paper), tmp_path)
    for words in (
        "Bow sheet",
        "58.2",
        "194.0",
        "front of the frog",
        "at playing tension",
        "wedges",
        "Date and signature",
    ):
        assert words in said
    assert "TOWARDS THE FROG" in said
    assert "check the current text" in said or "Labels, safety sheets" in said


def test_sheet_in_german(case: BowCase, tmp_path: Path) -> None:
    said = text_of(bow_sheet(case, "de"), tmp_path)
    assert "Bogenblatt" in said and "58,2" in said and "ZUM FROSCH" in said


def width(path: Shape) -> float:
    xs = [x for x, _ in path.points]
    return max(xs) - min(xs)


def test_side_view_is_to_scale(case: BowCase) -> None:
    drawing = side(case)
    # The longest outline is the stick: 712 mm; figures, thickness and balances share its scale.
    stick = max((i for i in drawing.items if isinstance(i, Shape)), key=width)
    scale = width(stick) / 712.0
    said = " ".join(i.text for i in drawing.items if isinstance(i, Text))
    written = re.search(r"1 : ([\d.]+)", said)
    assert written is not None
    assert 1 / scale == pytest.approx(float(written.group(1)), abs=0.006)
    assert case.weighed is not None and case.after is not None
    lines = [i for i in drawing.items if isinstance(i, Line) and i.pen.dash == (1.0, 0.8)]
    changed, found = sorted(i.x1 for i in lines)
    assert (found - changed) / scale == pytest.approx(case.weighed.bow.at_mm - case.after.at_mm, abs=0.02)
    butt = min(x for x, _ in stick.points)
    ends = [y for x, y in stick.points if x == butt]
    assert (max(ends) - min(ends)) / scale == pytest.approx(8.6, abs=0.01)


def test_camber_strip_is_full_size(case: BowCase) -> None:
    drawing = strip(case)
    assert drawing is not None and case.camber is not None and case.camber.after is not None
    curves = [i for i in drawing.items if isinstance(i, Shape) and i.smooth]
    assert len(curves) == 2
    wished = curves[1].points
    assert wished[-1][0] - wished[0][0] == pytest.approx(630.0)
    edge = wished[0][1]
    assert edge - min(y for _, y in wished) == pytest.approx(case.camber.after.deepest()[1], abs=0.01)


def test_pictures_stand_where_their_numbers_are(case: BowCase) -> None:
    assert camber(case) is not None
    drawing = reach(case)
    assert drawing is not None
    assert len([i for i in drawing.items if isinstance(i, Shape) and i.closed]) == 7


def test_pictures_are_absent_where_nothing_was_asked() -> None:
    from purfling.slips.reader import check_slip

    bare = compute(check_slip({"bow": {"mass_g": 60.0}}))
    assert camber(bare) is None and reach(bare) is None and strip(bare) is None
    assert bow_sheet(bare).startswith(b"%PDF")
