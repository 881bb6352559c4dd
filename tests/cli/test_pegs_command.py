"""``purfling pegs`` as a user types it."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

EXAMPLES = Path(__file__).parents[2] / "examples"
PEGS = EXAMPLES / "pegs.toml"


def test_each_peg_by_its_hole(purfling: Callable[..., Any]) -> None:
    r = purfling("pegs", PEGS, "--json").answer["results"]
    assert [p["peg"] for p in r["pegs"]] == list("GDAE")
    assert [p["travel_mm"] for p in r["pegs"]] == pytest.approx([3.0, 3.0, 7.5, 1.5])
    assert [p["bush"] for p in r["pegs"]] == [False, False, True, False]
    assert r["pegs"][2]["limited_by"] == "standout"
    assert r["taper"] == 30
    assert r["pegs"][3]["years_left"] == pytest.approx(r["pegs"][3]["wear_left_mm"] / 0.02, rel=1e-4)
    out = purfling("pegs", PEGS).out
    assert "Peg A goes IN 7.5 mm" in out and "Peg A: BUSH" in out


def test_a_cello_tapers_otherwise_and_an_old_box_too(
    purfling: Callable[..., Any], write_slip: Callable[..., Path]
) -> None:
    text = '[body]\nfamily = "cello"\n[pegs]\ndiameter_mm = [14.0, 14.0, 14.0, 14.0]\n'
    text += "wear_mm = [0.1, 0.1, 0.1, 0.1]\n"
    r = purfling("pegs", write_slip(text), "--json").answer
    assert r["results"]["pegs"][0]["travel_mm"] == pytest.approx(2.5)
    assert r["status"] == "estimate" and "pegs.taper" in {d["field"] for d in r["defaults"]}
    old = purfling("pegs", write_slip(text + "taper = 20\n"), "--json").answer
    assert old["results"]["pegs"][0]["travel_mm"] == pytest.approx(2.0)
    assert old["status"] == "ok"
    codes = {w["code"] for w in old["warnings"]}
    assert {"arithmetic.no_standout", "arithmetic.no_hole_to_cheek"} <= codes


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ('[body]\nfamily = "violin"\n', "pegs.diameter_mm"),
        ('[body]\nfamily = "violin"\n[pegs]\ndiameter_mm = [8.0, 8.0]\n', "pegs.diameter_mm"),
        ("[pegs]\ndiameter_mm = [8.0, 8.0, 8.0, 8.0]\n", "body.family"),
        ('[body]\nfamily = "violin"\n[pegs]\ndiameter_mm = [80.0, 8.0, 8.0, 8.0]\n', "pegs.diameter_mm[1]"),
    ],
)
def test_refusals(
    purfling: Callable[..., Any], write_slip: Callable[..., Path], text: str, said: str
) -> None:
    run = purfling("pegs", write_slip(text))
    assert (run.code, run.out) == (1, "")
    assert said in run.err


def test_the_picture(purfling: Callable[..., Any], tmp_path: Path) -> None:
    purfling("pegs", PEGS, "-o", tmp_path)
    svg = (tmp_path / "pegs.svg").read_text(encoding="utf-8")
    assert "IN 7.5 mm" in svg and "BUSH" in svg
