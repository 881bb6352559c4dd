"""``purfling bow-room`` as a user types it."""

import math
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

EXAMPLES = Path(__file__).parents[2] / "examples"
SIX = EXAMPLES / "bow-room.toml"


def template(radius: float, centre: float, lean: float) -> str:
    """Six numbers of a template whose curve is known: spacing, four heights, depth."""
    y = [(i / 3 - 0.5) * 33.5 for i in range(4)]
    heights = [centre - radius + math.sqrt(radius**2 - (v - lean) ** 2) for v in y]
    return (
        f"[curve]\nspacing_mm = 33.5\nheight_mm = {[round(h, 2) for h in heights]}\nnotch_depth_mm = 0.25\n"
    )


@pytest.mark.parametrize(
    ("radius", "centre", "lean"), [(42.0, 33.0, -2.0), (40.0, 32.4, -1.5), (44.5, 33.6, -2.6)]
)
def test_six_numbers_give_the_template_to_0_1_mm(
    purfling: Callable[..., Any], write_slip: Callable[..., Path], radius: float, centre: float, lean: float
) -> None:
    # Heights entered to 0.01 mm; the template's crown at the strings comes back within 0.1 mm (crown: a
    # notch depth above the notches).
    r = purfling("bow-room", write_slip(template(radius, centre, lean)), "--json").answer["results"]["curve"]
    assert r["notch_radius_mm"] == pytest.approx(radius, abs=0.1)
    for y, crown in zip([(i / 3 - 0.5) * 33.5 for i in range(4)], r["crown_height_mm"], strict=True):
        expected = centre - radius + math.sqrt(radius**2 - (y - lean) ** 2) + 0.25
        assert crown == pytest.approx(expected, abs=0.1)


def test_the_kept_curve_against_todays(purfling: Callable[..., Any]) -> None:
    answer = purfling("bow-room", SIX, "--json").answer
    kept = answer["results"]["kept"]
    assert kept["height_change_mm"] == pytest.approx([0.1, -0.1, -0.1, 0.1])
    assert kept["radius_change_mm"] > 0
    assert "FLATTER" in purfling("bow-room", SIX).out
    assert "FLACHER" in purfling("bow-room", SIX, "--lang", "de").out
    assert "arithmetic.no_waist" in {w["code"] for w in answer["warnings"]}


def test_the_waist_of_a_whole_card(purfling: Callable[..., Any], write_slip: Callable[..., Path]) -> None:
    slip = EXAMPLES / "waist.toml"
    edges = purfling("bow-room", slip, "--json").answer["results"]["edges"]
    assert edges["bass"]["edge_clearance_mm"] > edges["treble"]["edge_clearance_mm"] > 0
    assert "FREE" in purfling("bow-room", slip).out
    wide = slip.read_text(encoding="utf-8").replace("edge_height_mm = 3.0", "edge_height_mm = 25.0")
    run = purfling("bow-room", write_slip(wide))
    assert "TOUCHES" in run.out and "would touch" in run.out


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (template(42, 33, -2) + "[waist]\nhalf_width_mm = 55\nedge_height_mm = 3\n", "whole card"),
        ("[curve]\nspacing_mm = 33.5\n", "curve.height_mm"),
        ("[curve]\nheight_mm = [31.0, 33.0, 32.0, 29.0]\n", "curve.spacing_mm"),
        ("[curve]\nspacing_mm = 33.5\nheight_mm = [31.0, 29.0, 29.0, 31.0]\n", "curve"),
        ("[waist]\nhalf_width_mm = 55\n", "body.family"),
    ],
)
def test_refusals(
    purfling: Callable[..., Any], write_slip: Callable[..., Path], text: str, said: str
) -> None:
    run = purfling("bow-room", write_slip(text))
    assert (run.code, run.out) == (1, "")
    assert said in run.err


def test_pictures(purfling: Callable[..., Any], tmp_path: Path) -> None:
    for name in ("bow-room", "waist", "cello"):
        purfling("bow-room", EXAMPLES / f"{name}.toml", "-o", tmp_path / name)
        assert "times its size" in (tmp_path / name / "bow-room.svg").read_text(encoding="utf-8")
