"""``purfling change`` as a user types it."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

EXAMPLES = Path(__file__).parents[2] / "examples"
VIOLIN = EXAMPLES / "violin.toml"


def test_results_have_the_promised_keys(purfling: Callable[..., Any]) -> None:
    r = purfling("change", VIOLIN, "--board-at-nut", "0.4", "--board-at-end", "0.4", "--json").answer[
        "results"
    ]
    assert [round(v, 2) for v in r["bridge_mm"]] == [-0.4] * 4
    assert r["nut_mm"] == -0.4
    assert r["projection_mm"] == pytest.approx(-0.404, abs=0.001)
    assert [round(v, 2) for v in r["action_if_bridge_kept_mm"]] == [0.33] * 4
    assert r["down_force_change_n"] < 0
    assert r["edge_left_mm"] == {"bass": 4.2, "treble": 4.0}


def test_the_sentence_carries_the_direction(purfling: Callable[..., Any]) -> None:
    down = purfling("change", VIOLIN, "--board-at-nut", "0.4", "--board-at-end", "0.4").out
    assert "Bridge goes DOWN 0.40" in down and "Nut goes DOWN 0.40" in down and "HIGHER" in down
    up = purfling("change", VIOLIN, "--board-at-nut", "-0.8", "--board-at-end", "-0.8").out
    assert "Bridge goes UP 0.8" in up
    kept = purfling("change", VIOLIN, "--board-at-end", "0.4", "--nut-kept", "--lang", "de").out
    assert "NIEDRIGER" in kept and "0,49" in kept


def test_outer_clearances_and_projection(purfling: Callable[..., Any]) -> None:
    words = ("change", VIOLIN, "--clearance-at-end", "low=-0.5,high=-0.3", "--json")
    r = purfling(*words).answer["results"]
    assert r["bridge_mm"] == sorted(r["bridge_mm"]) and r["nut_mm"] == 0
    by_change = purfling("change", VIOLIN, "--projection", "-1", "--json").answer["results"]
    by_value = purfling("change", VIOLIN, "--projection", "26", "--json").answer["results"]
    assert by_change == by_value
    assert by_change["projection_mm"] == pytest.approx(-1.0)
    assert by_change["bridge_goes"] == "DOWN"
    assert by_change["action_if_bridge_kept_mm"][0] == pytest.approx(0.815, abs=0.005)


def test_a_set_of_another_slip(purfling: Callable[..., Any], write_slip: Callable[..., Path]) -> None:
    text = "".join(
        f'[[strings]]\nname = "{n}"\ntension_n = {t}\n' for n, t in zip("GDAE", (40, 42, 50, 70), strict=True)
    )
    r = purfling("change", VIOLIN, "--strings", write_slip(text), "--json").answer["results"]
    assert r["down_force_change_n"] == pytest.approx(-0.098 * 88, rel=0.1)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--clearance-at-end", "low=-0.5"), "low=MM,high=MM"),
        (("--clearance-at-end", "middle=1,high=2"), "low=MM,high=MM"),
        (("--board-at-end", "thick"), "--board-at-end"),
        (("--board-at-end", "9"), "--board-at-end"),
        (("--board-at-end", "4.5"), "board.edge_treble_mm"),
        (("--clearance-at-end", "-6"), "--clearance-at-end"),
        (("--strings", "nowhere.toml"), "nowhere.toml"),
        (("--strings", str(EXAMPLES / "lapping.toml")), "strings"),
    ],
)
def test_refusals_name_what_is_wrong(purfling: Callable[..., Any], words: tuple[str, ...], said: str) -> None:
    run = purfling("change", VIOLIN, *words)
    assert (run.code, run.out) == (1, "")
    assert said in run.err and len(run.err) <= 301 and run.err.count("\n") == 1


def test_unknown_option_exits_2(purfling: Callable[..., Any]) -> None:
    assert purfling("change", VIOLIN, "--taller").code == 2


def test_pictures_are_written(purfling: Callable[..., Any], tmp_path: Path) -> None:
    first = purfling("change", VIOLIN, "--board-at-end", "0.4", "-o", tmp_path / "a", "--json").out
    again = purfling("change", VIOLIN, "--board-at-end", "0.4", "-o", tmp_path / "b", "--json").out
    svg = (tmp_path / "a" / "change.svg").read_bytes()
    assert svg == (tmp_path / "b" / "change.svg").read_bytes() and json.loads(first) == json.loads(again)
    assert b"heights stretched" in svg and b"DOWN 0.49" in svg
