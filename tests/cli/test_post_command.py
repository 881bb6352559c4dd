"""``purfling post`` as a user types it."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

EXAMPLES = Path(__file__).parents[2] / "examples"
POST = EXAMPLES / "post.toml"
HEAD = '[body]\nfamily = "violin"\n[post]\nlength_mm = 53.0\ndiameter_mm = 6.2\n'
SLOPES = "top_across_deg = 4.0\nback_across_deg = 3.0\n"


def test_outward_too_long_inward_too_short(
    purfling: Callable[..., Any], write_slip: Callable[..., Path]
) -> None:
    slip = write_slip(HEAD + SLOPES)
    outward = purfling("post", slip, "--outward", "2", "--json").answer["results"]
    assert outward["post_becomes"] == "TOO LONG"
    assert outward["length_change_mm"] == pytest.approx(-0.2447, abs=1e-4)
    assert outward["length_mm"] == pytest.approx(52.7553, abs=1e-3)
    assert outward["top_edge_difference_mm"]["across"] == pytest.approx(0.4335, abs=1e-3)
    inward = purfling("post", slip, "--outward", "-2")
    assert "TOO SHORT by 0.24" in inward.out and "INWARD" in inward.out
    assert "post becomes TOO LONG by 0.24" in purfling("post", slip, "--outward", "2").out
    assert "ZU LANG" in purfling("post", slip, "--outward", "2", "--lang", "de").out


def test_the_wish_is_a_move_and_the_tries_have_their_way_back(purfling: Callable[..., Any]) -> None:
    answer = purfling("post", POST, "--json").answer
    r = answer["results"]
    assert (r["outward_mm"], r["back_mm"]) == (1.0, 0.0)
    assert r["top_turn_deg"]["across"] == pytest.approx(0.6)
    assert r["tries"][0]["way_back"] == {"outward_mm": -0.5, "back_mm": -0.5}
    assert r["tries"][2]["verdict"] == "keep"
    season = r["season"]
    assert season["n"] == 4 and 0.01 < season["mm_per_percent"] < 0.015
    assert season["to_driest_mm"] < 0 < season["to_dampest_mm"]


@pytest.mark.parametrize(
    ("text", "words", "said"),
    [
        (HEAD, ("--outward", "2"), "post.top_across_deg"),
        (HEAD + SLOPES, ("--back", "1"), "post.back_along_deg"),
        (HEAD + SLOPES, (), "--outward"),
        (HEAD + SLOPES + "[wish.post]\ninside_mm = 0.0\n", (), "post.inside_mm"),
        (HEAD + "[[fit]]\noutward_mm = 0\nback_mm = 0\nlength_mm = 53\n", ("--outward", "2"), "two"),
        (HEAD.replace('family = "violin"', ""), ("--outward", "2"), "body.family"),
    ],
)
def test_a_missing_reading_is_named(
    purfling: Callable[..., Any],
    write_slip: Callable[..., Path],
    text: str,
    words: tuple[str, ...],
    said: str,
) -> None:
    run = purfling("post", write_slip(text), *words)
    assert (run.code, run.out) == (1, "")
    assert said in run.err


def test_two_fits_are_too_few_and_say_so(
    purfling: Callable[..., Any], write_slip: Callable[..., Path]
) -> None:
    rows = ((0, 53.0), (2, 52.75))
    fits = "".join(f"[[fit]]\noutward_mm = {x}\nback_mm = 0\nlength_mm = {length}\n" for x, length in rows)
    answer = purfling("post", write_slip(HEAD + fits), "--outward", "2", "--json").answer
    assert answer["status"] == "estimate"
    assert [w["code"] for w in answer["warnings"]] == ["arithmetic.too_few"]
    assert "n = 2" in answer["warnings"][0]["text"]
    assert answer["results"]["length_change_mm"] == pytest.approx(-0.25)


def test_the_map(purfling: Callable[..., Any], tmp_path: Path) -> None:
    purfling("post", POST, "-o", tmp_path)
    svg = (tmp_path / "post-map.svg").read_text(encoding="utf-8")
    assert "10 times its size" in svg and "shall stand" in svg and svg.count("<circle") == 5
