"""Every number of the examples put to bad values: each command answers or refuses in one sentence."""

import json
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

EXAMPLES = Path(__file__).parents[2] / "examples"
BEFORE = str(EXAMPLES / "season-before.toml")
CASES = [
    ("change", "cello", ("--board-at-end", "0.4", "--clearance-at-end", "low=-0.3,high=-0.2")),
    ("margins", "margins", ()),
    ("nut", "violin", ()),
    ("strings", "viola", ()),
    ("post", "post", ()),
    ("pegs", "pegs", ()),
    ("bow-room", "waist", ()),
    ("bow-room", "bow-room", ()),
    ("season", "season", ("--before", BEFORE)),
]
BAD = ("0", "-1", "1e9", '"much"', "nan", "[]", "true", None)  # None: the line is left out
ARITHMETIC = (
    "body|neck|board|nut|end|bridge|saddle|strings|state|gauge|swing|profile|tail|post|fit|history|try|pegs|waist"
    "|curve|kept_curve|wish\\.\\w+"
)


def spoilt(text: str, bad: str | None) -> list[str]:
    """The slip with each number of the card's own tables replaced, or left out, in turn."""
    lines = text.split("\n")
    found = []
    table = ""
    for i, line in enumerate(lines):
        head = re.match(r"\[+([\w.]+)\]+$", line)
        if head:
            table = head.group(1)
        if re.match(r"\w+ = [\[\d-]", line) and re.fullmatch(ARITHMETIC, table):
            key = line.split(" = ")[0]
            instead = [] if bad is None else [f"{key} = {bad}"]
            found.append("\n".join([*lines[:i], *instead, *lines[i + 1 :]]))
    return found


@pytest.mark.parametrize(("command", "example", "words"), CASES)
@pytest.mark.parametrize("bad", BAD)
def test_a_bad_value_is_answered_or_refused(
    purfling: Callable[..., Any],
    write_slip: Callable[..., Path],
    command: str,
    example: str,
    words: tuple[str, ...],
    bad: str | None,
) -> None:
    slips = spoilt((EXAMPLES / f"{example}.toml").read_text(encoding="utf-8"), bad)
    assert slips
    refused = 0
    for slip in slips:
        run = purfling(command, write_slip(slip), *words, "--json")
        assert run.code in (0, 1), slip
        if run.code == 0:
            assert json.loads(run.out)["results"]
        else:
            refused += 1
            assert run.out == ""
            assert 0 < len(run.err) <= 301 and run.err.count("\n") == 1
    if bad in ("1e9", '"much"', "nan"):
        assert refused
