"""The door for loads: what is refused, and by which name."""

import copy
import json
from pathlib import Path
from typing import Any

import pytest

from purfling.craft.refusals import Refusal
from purfling.slips.load import load_of, read_moment, write_moment
from purfling.words import refusal_text

EXAMPLE = Path(__file__).resolve().parents[2] / "examples" / "plan.json"


def data() -> dict[str, Any]:
    found: dict[str, Any] = json.loads(EXAMPLE.read_text(encoding="utf-8"))
    return found


def change(path: str, value: Any) -> dict[str, Any]:
    """The example with one value changed (``visits/0/weight``); ``...`` takes it out."""
    found = copy.deepcopy(data())
    node: Any = found
    *way, last = [int(k) if k.isdigit() else k for k in path.split("/")]
    for step in way:
        node = node[step]
    if value is ...:
        del node[last]
    else:
        node[last] = value
    return found


REFUSED = [
    ("now", ..., "slips.missing_plain", "now"),
    ("now", "2027-03-02", "slips.bad_moment", "now"),
    ("now", "2027-03-02T09:03", "plan.not_fives", "09:03"),
    ("peeple", [], "plan.unknown_key_near", "people"),
    ("people", [], "plan.nobody", "people"),
    ("people/1/name", "master", "plan.person_twice", "master"),
    ("people/0/away", [["2027-03-03T13:00", "2027-03-03T09:00"]], "plan.span_backwards", "away"),
    ("bench_hours", {}, "plan.no_hours", "bench_hours"),
    ("bench_hours/tue", [["13:00", "09:00"]], "plan.hours_cross", "tue"),
    ("bench_hours/tue", [["09:00", "13:00"], ["12:00", "14:00"]], "plan.hours_cross", "tue"),
    ("bench_hours/tue", [["9:00", "13:00"]], "plan.bad_clock", "9:00"),
    ("bench_hours/tuesday", [["09:00", "13:00"]], "plan.unknown_key_near", "tue"),
    ("closed", ["2027-02-30"], "plan.bad_date", "2027-02-30"),
    ("places/hook", -1, "slips.not_a_number", "hook"),
    ("setups/glue/keeps", "week", "slips.bad_choice", "week"),
    ("setups/glue/minutes", 300, "plan.setup_too_long", "glue"),
    ("visits/1/id", "viola", "plan.visit_twice", "viola"),
    ("visits/0/weight", -1, "cli.option_below", "weight"),
    ("visits/0/weight", True, "slips.not_a_number", "weight"),
    ("visits/0/promise", ..., "slips.missing_plain", "promise"),
    ("visits/0/operations/0/minutes", 12, "plan.not_fives", "card"),
    ("visits/0/operations/0/minutes", 0, "cli.option_below", "card"),
    ("visits/0/operations/0/interruptible", "no", "slips.not_a_truth", "card"),
    ("visits/0/operations/0/until", "unclam", "plan.unknown_id_near", "unclamp"),
    ("visits/0/operations/1/after/0/id", "cart", "plan.unknown_id_near", "card"),
    ("visits/0/operations/0/place", "hock", "plan.unknown_id_near", "hook"),
    ("visits/0/operations/0/family", "glu", "plan.unknown_id_near", "glue"),
    ("visits/0/operations/0/skill", "gilding", "plan.no_skill", "gilding"),
    ("visits/0/operations/0/minutes", 250, "plan.too_long", "card"),
    ("visits/0/operations/0/after", [{"id": "adjust", "wait_min": 0}], "plan.cycle", "card, strip"),
    ("visits/0/operations/1/id", "card", "plan.operation_twice", "card"),
    ("visits/0/operations/3/after/0/wait_max", 200, "plan.wait_upside_down", "unclamp"),
    ("visits/0/operations/0/state", "done", "plan.done_without_end", "card"),
    ("visits/0/operations/0/state", "started", "plan.started_without_start", "card"),
    ("visits/0/operations/0/state", "half", "slips.bad_choice", "half"),
    ("visits/0/operations/0/fixed", {"person": "nobody"}, "plan.unknown_id", "nobody"),
    ("visits/0/operations/0/fixed", {"when": 1}, "plan.unknown_key", "fixed"),
    ("visits/1/never_during/0/0", "peg", "plan.unknown_id_near", "pegs"),
]


@pytest.mark.parametrize("path, value, code, named", REFUSED)
def test_a_load_that_does_not_fit_is_refused_by_name(path: str, value: Any, code: str, named: str) -> None:
    with pytest.raises(Refusal) as refused:
        load_of(change(path, value))
    assert refused.value.code == code
    for language in ("en", "de"):
        said = refusal_text(refused.value, language)
        assert named in said and len(said) <= 300


def test_what_may_be_null_or_absent() -> None:
    bare = data()
    for visit in bare["visits"]:
        for one in visit["operations"]:
            one.update(
                {k: None for k in ("skill", "family", "place", "until", "object", "fixed") if k not in one}
            )
    assert load_of(bare) == load_of(data())
    operation = {"id": "a", "minutes": 30, "interruptible": False}
    small = {
        "now": "2027-03-02T09:00",
        "bench_hours": {"tue": [["09:00", "13:00"]]},
        "people": [{"name": "anna"}],
        "visits": [{"id": "v", "arrives": "2027-03-02T09:00", "promise": "2027-03-02T12:00", "weight": 1}],
    }
    assert load_of(small).visits[0].operations == ()
    small["visits"][0]["operations"] = [operation]  # type: ignore[index]
    assert load_of(small).visits[0].operations[0].pieces == (30,)


def test_an_evening_can_hold_what_no_bench_period_holds() -> None:
    long = change("visits/0/operations/0/minutes", 250)
    long["evenings"] = [["2027-03-03T18:00", "2027-03-03T23:00"]]
    assert load_of(long, use_evenings=True).visits[0].operations[0].minutes == 250
    with pytest.raises(Refusal, match=r"plan\.too_long"):
        load_of(long, use_evenings=False)


@pytest.mark.parametrize("text", ["2027-03-02T00:00", "2027-12-31T23:55", "2028-02-29T12:30"])
def test_moments_go_there_and_back(text: str) -> None:
    assert write_moment(read_moment(text, "now")) == text
