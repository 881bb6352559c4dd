"""``purfling margins`` as a user types it."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

EXAMPLES = Path(__file__).parents[2] / "examples"
KEYS = {
    "string",
    "stop_semitone",
    "bowed_ratio",
    "bowed_mm",
    "bowed_at_mm",
    "plucked_ratio",
    "plucked_mm",
    "plucked_at_mm",
}


def test_every_string_open_and_to_the_octave_and_a_fifth(purfling: Callable[..., Any]) -> None:
    answer = purfling("margins", EXAMPLES / "violin.toml", "--json").answer
    rows = answer["results"]["margins"]
    assert [(r["string"], r["stop_semitone"]) for r in rows] == [(s, k) for s in "GDAE" for k in range(20)]
    assert all(r.keys() >= KEYS for r in rows)
    assert answer["status"] == "estimate"
    assert {d["field"] for d in answer["defaults"]} >= {"swing.bow_speed_m_s", "swing.pluck_mm"}
    nut = answer["results"]["nut"]
    now = answer["inputs"]["nut.clearance_mm"]
    for clear, lowest, cut in zip(now, nut["lowest_clearance_mm"], nut["cut_mm"], strict=True):
        assert clear - lowest == pytest.approx(cut, abs=1e-5)


def test_a_measured_hump_is_found(purfling: Callable[..., Any]) -> None:
    # The hump of the example lies 25 mm from the nut under the G: the first semitone (at 18.4 mm) meets it.
    rows = purfling("margins", EXAMPLES / "margins.toml", "--json").answer["results"]["margins"]
    first = rows[1]
    assert first["stop_semitone"] == 1
    assert 18.0 <= first["bowed_at_mm"] <= 25.0
    assert first["bowed_ratio"] < rows[3]["bowed_ratio"]


def test_stiffness_gives_cents_and_its_absence_says_how_to_get_it(purfling: Callable[..., Any]) -> None:
    answer = purfling("margins", EXAMPLES / "margins.toml", "--json").answer
    rows = {(r["string"], r["stop_semitone"]): r for r in answer["results"]["margins"]}
    assert rows["E", 12]["press_cents"] > 5 and rows["G", 12]["press_cents"] is None
    assert rows["E", 0]["finger_force_n"] is None and 1.0 < rows["E", 5]["finger_force_n"] < 5.0
    without = purfling("margins", EXAMPLES / "violin.toml").out
    assert "axial_stiffness_n" in without and "fine tuner" in without


def test_more_clearance_never_lowers_a_margin(
    purfling: Callable[..., Any], write_slip: Callable[..., Path]
) -> None:
    text = (EXAMPLES / "violin.toml").read_text(encoding="utf-8")
    low = purfling("margins", write_slip(text, "a.toml"), "--json").answer["results"]["margins"]
    higher = text.replace("clearance_mm = [5.9, 5.2, 4.6, 3.9]", "clearance_mm = [6.2, 5.5, 4.9, 4.2]")
    assert higher != text
    high = purfling("margins", write_slip(higher, "b.toml"), "--json").answer["results"]["margins"]
    for a, b in zip(low, high, strict=True):
        assert b["bowed_ratio"] > a["bowed_ratio"] and b["plucked_ratio"] > a["plucked_ratio"]


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('string = "G"', 'string = "H"', "G, D, A, E"),
        ("station_mm = [15.0, 25.0,", "station_mm = [25.0, 15.0,", "station_mm"),
        ("station_mm = [15.0, 25.0,", "station_mm = [0.0, 25.0,", "straight edge"),
        ("pluck_mm = 1.2", "pluck_mm = 0", "pluck_mm"),
        ('datum = "underside"\n\n[end]', "\n[end]", "nut.datum"),
    ],
)
def test_refusals(
    purfling: Callable[..., Any], write_slip: Callable[..., Path], old: str, new: str, said: str
) -> None:
    text = (EXAMPLES / "margins.toml").read_text(encoding="utf-8")
    assert old in text
    run = purfling("margins", write_slip(text.replace(old, new, 1)))
    assert (run.code, run.out) == (1, "")
    assert said in run.err


def test_the_picture_says_how_much_it_is_stretched(purfling: Callable[..., Any], tmp_path: Path) -> None:
    purfling("margins", EXAMPLES / "margins.toml", "-o", tmp_path)
    svg = (tmp_path / "margins.svg").read_text(encoding="utf-8")
    assert "heights stretched 20 times" in svg
    purfling("margins", EXAMPLES / "cello.toml", "-o", tmp_path, "--lang", "de")
    assert "20-fach" in (tmp_path / "margins.svg").read_text(encoding="utf-8")


def test_a_short_board_leaves_out_what_is_not_on_it(
    purfling: Callable[..., Any], write_slip: Callable[..., Path]
) -> None:
    text = (
        (EXAMPLES / "violin.toml")
        .read_text(encoding="utf-8")
        .replace("length_mm = 270.0", "length_mm = 215.0")
    )
    answer = purfling("margins", write_slip(text), "--json").answer
    assert "arithmetic.short_board" in [w["code"] for w in answer["warnings"]]
    assert max(r["stop_semitone"] for r in answer["results"]["margins"]) == 18
