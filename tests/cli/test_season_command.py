"""``purfling season`` as a user types it."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

EXAMPLES = Path(__file__).parents[2] / "examples"
NOW, BEFORE = EXAMPLES / "season.toml", EXAMPLES / "season-before.toml"


def test_a_dry_january_is_the_season(purfling: Callable[..., Any]) -> None:
    answer = purfling("season", NOW, "--before", BEFORE, "--json").answer
    r = answer["results"]
    assert answer["status"] == "estimate"  # the tensions are the table's
    assert r["projection_change_mm"] > 0.9  # strings low in winter: the board line stands higher
    assert r["verdict"] == "season"
    assert r["air"]["before"]["emc_percent"] > r["air"]["now"]["emc_percent"]
    assert r["left_over_mm"] == pytest.approx(
        r["projection_read_change_mm"] - r["projection_change_mm"], abs=1e-5
    )
    assert r["neck_moved_mm"] == pytest.approx(r["projection_change_mm"] + r["belly_rose_mm"], abs=1e-5)
    assert r["n"] == 5


def changed(write_slip: Callable[..., Path], *pairs: tuple[str, str]) -> Path:
    text = NOW.read_text(encoding="utf-8")
    for old, new in pairs:
        assert old in text
        text = text.replace(old, new)
    return write_slip(text)


def test_a_fallen_neck_is_beyond_the_season(
    purfling: Callable[..., Any], write_slip: Callable[..., Path]
) -> None:
    # Same dry January, but the strings stand 2 mm higher: the year's own swing says the opposite.
    slip = changed(
        write_slip, ("[7.1, 6.3, 5.2, 4.3]", "[9.6, 8.8, 7.7, 6.8]"), ("= 81.5\nstop", "= 78.5\nstop")
    )
    run = purfling("season", slip, "--before", BEFORE)
    assert "FELL" in run.out and "BEYOND the season" in run.out
    r = purfling("season", slip, "--before", BEFORE, "--json").answer["results"]
    assert r["verdict"] == "beyond_season" and r["beyond_season_mm"] < -1.5


def test_within_the_readings_it_is_nothing(purfling: Callable[..., Any]) -> None:
    answer = purfling("season", BEFORE, "--before", BEFORE, "--json").answer
    assert answer["results"]["verdict"] == "nothing"
    assert answer["results"]["projection_change_mm"] == pytest.approx(0.0, abs=1e-9)
    assert answer["status"] == "estimate"
    assert "arithmetic.no_history" in {w["code"] for w in answer["warnings"]}


def test_without_its_own_year_it_is_unknown(
    purfling: Callable[..., Any], write_slip: Callable[..., Path]
) -> None:
    text = NOW.read_text(encoding="utf-8").split("\n[[history]]")[0] + "\n"
    r = purfling("season", write_slip(text), "--before", BEFORE, "--json").answer["results"]
    assert r["verdict"] == "unknown" and r["season_mm"] is None


def test_an_untouched_bridge_needs_no_heights(
    purfling: Callable[..., Any], write_slip: Callable[..., Path]
) -> None:
    gone = (("height_low_mm = 89.0\n", ""), ("height_high_mm = 82.4\n", ""))
    slip = changed(write_slip, *gone)
    run = purfling("season", slip, "--before", BEFORE)
    assert run.code == 1 and "bridge.height_low_mm" in run.err and "--bridge-kept" in run.err
    kept = purfling("season", slip, "--before", BEFORE, "--bridge-kept", "--json").answer["results"]
    read = purfling("season", NOW, "--before", BEFORE, "--json").answer["results"]
    assert kept["projection_change_mm"] == pytest.approx(read["projection_change_mm"], abs=1e-6)
    assert kept["projection_change_error_mm"] < read["projection_change_error_mm"]


def test_refusals(purfling: Callable[..., Any], write_slip: Callable[..., Path]) -> None:
    alone = purfling("season", NOW)
    assert alone.code == 1 and "--before" in alone.err and alone.out == ""
    slack = changed(write_slip, ('tension = "strung"', 'tension = "slack"'))
    assert "slack" in purfling("season", slack, "--before", BEFORE).err
    other = purfling("season", NOW, "--before", EXAMPLES / "violin.toml")
    assert other.code == 1 and "violin.toml" in other.err


def test_missing_air_and_arch_are_named(
    purfling: Callable[..., Any], write_slip: Callable[..., Path]
) -> None:
    slip = changed(write_slip, ("humidity_percent = 34\n", ""), ("arch_mm = 26.1\n", ""))
    answer = purfling("season", slip, "--before", BEFORE, "--json").answer
    said = " ".join(w["text"] for w in answer["warnings"])
    assert "state.humidity_percent" in said and "body.arch_mm" in said
    assert answer["results"]["neck_moved_mm"] is None and answer["results"]["air"]["now"] is None


def test_the_picture(purfling: Callable[..., Any], tmp_path: Path) -> None:
    purfling("season", NOW, "--before", BEFORE, "-o", tmp_path)
    svg = (tmp_path / "season.svg").read_text(encoding="utf-8")
    assert "times its size" in svg and "beyond" in svg
