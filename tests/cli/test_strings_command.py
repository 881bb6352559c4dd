"""``purfling strings`` as a user types it."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

EXAMPLES = Path(__file__).parents[2] / "examples"
VIOLIN = EXAMPLES / "violin.toml"


def test_a_set_is_an_estimate_and_shows_its_formula(purfling: Callable[..., Any]) -> None:
    answer = purfling("strings", VIOLIN, "--json").answer
    assert answer["status"] == "estimate"
    assert "mu (2 L f)^2" in answer["results"]["formula"]
    rows = answer["results"]["strings"]
    assert [r["name"] for r in rows] == list("GDAE")
    assert rows[0]["afterlength_pitch_hz"] == pytest.approx(1176, abs=0.1)
    load = answer["results"]["load"]
    assert load["bass_foot_n"] + load["treble_foot_n"] == pytest.approx(load["total_down_force_n"], rel=1e-5)


def test_a_new_set_against_the_present_one(purfling: Callable[..., Any]) -> None:
    results = purfling("strings", VIOLIN, "--strings", EXAMPLES / "strings.toml", "--json").answer["results"]
    new = results["new"]
    assert [r["tension_from"] for r in new["strings"]] == ["stated", "density", "stated", "density"]
    assert new["strings"][0]["tension_n"] == pytest.approx(41.0 * (328 / 325) ** 2, rel=1e-5)
    change = new["change"]
    assert change["bass_foot_n"] + change["treble_foot_n"] == pytest.approx(
        change["total_down_force_n"], abs=1e-3
    )
    assert change["total_down_force_n"] < 0
    text = purfling("strings", VIOLIN, "--strings", EXAMPLES / "strings.toml").out
    assert "LESS" in text


def test_a_wished_set_in_the_slip(purfling: Callable[..., Any], write_slip: Callable[..., Path]) -> None:
    text = VIOLIN.read_text(encoding="utf-8")
    for name, tension in zip("GDAE", (50, 52, 60, 80), strict=True):
        text += f'[[wish.strings]]\nname = "{name}"\ntension_n = {tension}.0\n'
    out = purfling("strings", write_slip(text)).out
    assert "MORE" in out


def test_the_tailpiece_moves_with_its_sign(
    purfling: Callable[..., Any], write_slip: Callable[..., Path]
) -> None:
    text = VIOLIN.read_text(encoding="utf-8") + "[tail]\nafterlength_mm = 52.7\ngap_mm = 3.0\n"
    run = purfling("strings", write_slip(text))
    assert "LONGER by 2.0 mm" in run.out and "loop 3.9 mm SHORTER" in run.out
    tail = purfling("strings", write_slip(text), "--json").answer["results"]["tail"]
    assert tail["move_mm"] == pytest.approx(328 / 6 - 52.7, abs=1e-4)
    assert tail["loop_mm"] == pytest.approx(-2 * tail["move_mm"], abs=1e-4)
    tight = text.replace("gap_mm = 3.0", "gap_mm = 1.0")
    codes = [w["code"] for w in purfling("strings", write_slip(tight), "--json").answer["warnings"]]
    assert "arithmetic.tail_on_saddle" in codes
    assert "arithmetic.no_afterlength" not in codes


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ('[[strings]]\nname = "G"\nstated_tension_n = 44.0\n', "stated_length_mm"),
        ('[[strings]]\nname = "G"\nstated_tension_n = 44.0\ntension_n = 44.0\n', "tension_n"),
        ("[board]\nlength_mm = 270.0\n", "strings"),
    ],
)
def test_refusals(
    purfling: Callable[..., Any], write_slip: Callable[..., Path], text: str, said: str
) -> None:
    run = purfling("strings", VIOLIN, "--strings", write_slip(text))
    assert (run.code, run.out) == (1, "")
    assert said in run.err


def test_the_picture(purfling: Callable[..., Any], tmp_path: Path) -> None:
    purfling("strings", VIOLIN, "--strings", EXAMPLES / "strings.toml", "-o", tmp_path)
    svg = (tmp_path / "strings.svg").read_text(encoding="utf-8")
    assert "45.0 N" in svg and "41.8 N" in svg


def test_a_cello_stays_under_the_published_upper_figure(purfling: Callable[..., Any]) -> None:
    # Strings magazine, July 2015: down force of a cello up to 85 lb (378 N), shown as an upper figure only.
    load = purfling("strings", EXAMPLES / "cello.toml", "--json").answer["results"]["load"]
    assert 150.0 < load["total_down_force_n"] < 378.0
