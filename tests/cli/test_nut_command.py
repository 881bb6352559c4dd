"""``purfling nut`` as a user types it, and its strip on the raster."""

import io
import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path
from typing import Any

import ezdxf
import numpy as np
import pytest
from PIL import Image

EXAMPLES = Path(__file__).parents[2] / "examples"
MM = 25.4 / 600


def test_places_depths_and_margins(purfling: Callable[..., Any]) -> None:
    answer = purfling("nut", EXAMPLES / "violin.toml", "--json").answer
    rows = answer["results"]["strings"]
    assert [r["from_lowest_gaps_mm"] for r in rows] == pytest.approx([0.0, 5.62, 11.18, 16.5], abs=0.005)
    assert [r["from_lowest_centres_mm"] for r in rows] == pytest.approx([0.0, 5.5, 11.0, 16.5])
    assert rows[0]["wished_mm"] == 0.4 and rows[0]["file_to_mm"] == pytest.approx(0.45)
    assert rows[0]["edge_margin_gaps_mm"] == pytest.approx(3.35)
    assert {d["field"] for d in answer["defaults"]} == {"nut.bedding_mm", "nut.groove_share"}


def test_datum_centre_is_the_underside_plus_half_the_string(
    purfling: Callable[..., Any], write_slip: Callable[..., Path]
) -> None:
    text = '[body]\nfamily = "violin"\n[nut]\nclearance_mm = [0.85, 0.775, 0.69, 0.43]\ndatum = "centre"\n'
    rows = purfling("nut", write_slip(text), "--json").answer["results"]["strings"]
    assert [r["clearance_mm"] for r in rows] == pytest.approx([0.45, 0.4, 0.35, 0.3])


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("[nut]\nclearance_mm = [0.4, 0.4, 0.3, 0.3]\n", "body.family"),
        ('[body]\nfamily = "violin"\n', "nut.clearance_mm"),
        ('[body]\nfamily = "violin"\n[nut]\nclearance_mm = [0.4, 0.4, 0.3, 0.3]\n', "nut.datum"),
        ('[body]\nfamily = "violin"\n[nut]\nclearance_mm = [0.4]\ndatum = "underside"\n', "nut.clearance_mm"),
    ],
)
def test_a_missing_reading_is_named(
    purfling: Callable[..., Any], write_slip: Callable[..., Path], text: str, said: str
) -> None:
    run = purfling("nut", write_slip(text))
    assert (run.code, run.out) == (1, "")
    assert said in run.err


def longest_run(dark: np.ndarray) -> int:
    best = 0
    for row in dark:
        edges = np.flatnonzero(np.diff(np.concatenate(([0], row.astype(int), [0]))))
        if len(edges):
            best = max(best, int((edges[1::2] - edges[::2]).max()))
    return best


@pytest.mark.parametrize("scale", [None, "1.006"])
@pytest.mark.parametrize("page", [1, 2])
def test_bars_are_100_mm_in_both_directions(
    purfling: Callable[..., Any], tmp_path: Path, scale: str | None, page: int
) -> None:
    assert shutil.which("pdftoppm"), "pdftoppm (poppler-utils) is needed to measure the print"
    more = ("--print-scale", scale) if scale else ()
    purfling("nut", EXAMPLES / "violin.toml", "-o", tmp_path, *more)
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
    subprocess.run(
        [*words, "-singlefile", str(tmp_path / "nut-strip.pdf"), str(tmp_path / "page")],
        check=True,
        stderr=subprocess.DEVNULL,
    )
    with Image.open(tmp_path / "page.pgm") as image:
        dark = np.asarray(image) < 100
    wanted = 100.0 * float(scale or 1.0)
    assert longest_run(dark) * MM == pytest.approx(wanted, abs=0.1)
    assert longest_run(dark.T) * MM == pytest.approx(wanted, abs=0.1)


def test_strip_in_svg_and_dxf(purfling: Callable[..., Any], tmp_path: Path) -> None:
    purfling("nut", EXAMPLES / "violin.toml", "-o", tmp_path)
    svg = (tmp_path / "nut-strip.svg").read_text(encoding="utf-8")
    assert "not calibrated" in svg and svg.count('width="100" height="0.5"') == 1
    assert svg.count('width="0.5" height="100"') == 1
    doc = ezdxf.read(io.StringIO((tmp_path / "nut-strip.dxf").read_text()))  # type: ignore[attr-defined]
    assert doc.header["$INSUNITS"] == 4 and not doc.audit().errors
    marks = [
        e.dxf.start.x
        for e in doc.modelspace().query('LINE[layer=="grooves"]')
        if e.dxf.start.x == e.dxf.end.x
    ]
    # gap (16.5 - 1.43 - 0.53) / 3 = 4.8467, and half of both neighbours beside it
    assert np.diff(sorted(marks)) == pytest.approx([5.6217, 5.5617, 5.3167], abs=0.0002)
    assert "not calibrated" in (tmp_path / "nut-strip.dxf").read_text()
    purfling("nut", EXAMPLES / "violin.toml", "-o", tmp_path, "--print-scale", "1.05")
    text = (tmp_path / "nut-strip.dxf").read_text()
    assert "not calibrated" not in text
    scaled = ezdxf.read(io.StringIO(text))  # type: ignore[attr-defined]
    lines = scaled.modelspace().query('LINE[layer=="grooves"]')
    assert sorted(e.dxf.start.x for e in lines if e.dxf.start.x == e.dxf.end.x) == pytest.approx(
        sorted(marks)
    )
    assert "not calibrated" not in (tmp_path / "nut-strip.svg").read_text(encoding="utf-8")


def test_a_wild_print_scale_is_refused(purfling: Callable[..., Any]) -> None:
    run = purfling("nut", EXAMPLES / "violin.toml", "--print-scale", "2")
    assert run.code == 1 and "--print-scale" in run.err
