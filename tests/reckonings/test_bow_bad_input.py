"""Every key of the example with values nobody should write: an answer or a refusal, nothing else."""

import copy
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from purfling.craft.refusals import Refusal
from purfling.reckonings.bow.compute import compute
from purfling.reckonings.bow.sentences import plain
from purfling.reckonings.lapping.compute import compute as compute_lapping
from purfling.slips.reader import check_slip
from purfling.words import refusal_text, say
from purfling.words.envelope import to_json

EXAMPLE = Path(__file__).resolve().parents[2] / "examples" / "bow.toml"
BASE: dict[str, Any] = tomllib.loads(EXAMPLE.read_text(encoding="utf-8"))
GONE = object()
BAD = (0, -1.0, 1e9, 500.0, "x", [1.0], True, GONE)


def paths(node: Any, before: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    if isinstance(node, dict):
        for key, value in node.items():
            yield from paths(value, (*before, key))
    elif isinstance(node, list) and node and isinstance(node[0], dict):
        for i, value in enumerate(node):
            yield from paths(value, (*before, i))
    else:
        yield before


def changed(path: tuple[Any, ...], value: Any) -> dict[str, Any]:
    tables = copy.deepcopy(BASE)
    place: Any = tables
    for step in path[:-1]:
        place = place[step]
    if value is GONE:
        del place[path[-1]]
    else:
        place[path[-1]] = value
    return tables


@pytest.mark.parametrize("value", BAD, ids=lambda v: "gone" if v is GONE else str(v))
def test_an_answer_or_one_sentence(value: Any) -> None:
    answered = refused = 0
    for path in paths(BASE):
        for reckon in (compute, compute_lapping):
            try:
                case = reckon(check_slip(changed(path, value)))
            except Refusal as said:
                refused += 1
                for language in ("en", "de"):
                    whole = " ".join(say(said.code, language, **said.params).split())
                    assert len(whole) <= 300, (path, whole)
                    assert refusal_text(said, language) == whole
                continue
            answered += 1
            to_json(case.answer)
            if hasattr(case, "hair"):
                assert plain(case, "de")
    assert answered > 10 and refused > 10
