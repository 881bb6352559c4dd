"""``purfling plan`` as a user types it."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

from purfling.planning.load import Piece, Plan, Preparation
from purfling.planning.proof import faults
from purfling.slips.load import read_load, read_moment
from tests.conftest import EXAMPLES

LOADS = Path(__file__).resolve().parents[2] / "bench" / "loads"


def plan_of(results: dict[str, Any]) -> Plan:
    pieces = tuple(
        Piece(
            o["visit"],
            o["id"],
            o["piece"],
            o["person"],
            read_moment(o["start"], ""),
            read_moment(o["end"], ""),
        )
        for o in results["operations"]
    )
    made = tuple(
        Preparation(s["family"], s["person"], read_moment(s["start"], "")) for s in results["setups"]
    )
    return Plan(pieces, made)


def test_the_answer_has_the_promised_keys_and_a_plan_that_stands(purfling: Callable[..., Any]) -> None:
    path = LOADS / "load-20-1-3.json"
    answer = purfling("plan", path, "--evaluations", 300, "--json").answer
    results = answer["results"]
    assert answer["status"] == "ok"
    assert list(results) == [
        "operations",
        "setups",
        "visits",
        "weighted_late_minutes",
        "bound_minutes",
        "method",
    ]
    load = read_load(path)
    assert faults(load, plan_of(results)) == []
    weights = {v.id: v.weight for v in load.visits}
    ready = {v.id: v.promise for v in load.visits}
    total = 0.0
    for row in results["visits"]:
        late = max(0, read_moment(row["ready"], "") - ready[row["id"]])
        assert row["late_minutes"] == late
        total += weights[row["id"]] * late
    assert results["weighted_late_minutes"] == total
    assert 0 <= results["bound_minutes"] <= total


def test_evaluations_give_the_same_bytes_and_seconds_tell_the_time(purfling: Callable[..., Any]) -> None:
    path = EXAMPLES / "plan.json"
    first = purfling("plan", path, "--evaluations", 100, "--json")
    assert first.code == 0 and first.out == purfling("plan", path, "--evaluations", 100, "--json").out
    timed = purfling("plan", path, "--seconds", 1, "--json").answer["results"]
    assert 0 <= timed["seconds"] <= 4


def test_evenings_are_worked_only_when_told(purfling: Callable[..., Any], tmp_path: Path) -> None:
    data = json.loads((EXAMPLES / "plan.json").read_text(encoding="utf-8"))
    data["bench_hours"] = {"fri": [["09:00", "10:00"]]}
    data["evenings"] = [["2027-03-02T19:00", "2027-03-02T21:00"]]
    data["visits"] = data["visits"][2:3]
    data["setups"] = {}
    path = tmp_path / "load.json"
    path.write_text(json.dumps(data), encoding="utf-8")
    for words, day in (((), "2027-03-05"), (("--evenings",), "2027-03-02")):
        answer = purfling("plan", path, "--evaluations", 20, "--json", *words).answer
        assert answer["results"]["operations"][0]["start"].startswith(day)


def test_promises_that_cannot_be_meant_are_warned_of(purfling: Callable[..., Any], tmp_path: Path) -> None:
    data = json.loads((EXAMPLES / "plan.json").read_text(encoding="utf-8"))
    data["visits"][0]["promise"] = "2027-03-01T12:00"
    data["visits"][0]["arrives"] = "2027-02-25T12:00"
    data["visits"][1]["promise"] = "2027-03-02T08:00"
    path = tmp_path / "load.json"
    path.write_text(json.dumps(data), encoding="utf-8")
    codes = [w["code"] for w in purfling("plan", path, "--evaluations", 1, "--json").answer["warnings"]]
    assert codes == ["plan.promise_past", "plan.promise_before_arrival", "plan.bound_trivial"]


def test_bad_words_are_refused_with_one_sentence(purfling: Callable[..., Any], tmp_path: Path) -> None:
    path = EXAMPLES / "plan.json"
    broken = tmp_path / "broken.json"
    broken.write_text('{"now": NaN}', encoding="utf-8")
    for words in (
        ("plan",),
        ("plan", tmp_path / "none.json"),
        ("plan", broken),
        ("plan", EXAMPLES / "violin.toml"),
        ("plan", path, "--seconds", "-1"),
        ("plan", path, "--seconds", "x"),
        ("plan", path, "--evaluations", "1.5"),
        ("plan", path, "--seconds", "1", "--evaluations", "1"),
        ("plan", path, "--from", tmp_path / "none.json"),
        ("plan", path, "--from", path),
        ("plan", path, "--move-price-hours", "-1"),
    ):
        run = purfling(*words)
        assert run.code == 1, words
        assert run.out == "" and 0 < len(run.err) <= 301 and run.err.count("\n") == 1, words
    assert purfling("plan", path, "--evening").code == 2


def test_the_plain_table_in_both_languages(purfling: Callable[..., Any]) -> None:
    path = EXAMPLES / "plan.json"
    english = purfling("plan", path, "--evaluations", 50).out
    german = purfling("plan", path, "--evaluations", 50, "--lang", "de").out
    assert "Tue 2027-03-02" in english and "weighted lateness" in english
    assert "Di 2027-03-02" in german and "gewichtete Verspätung" in german


def test_what_is_not_proven_is_not_called_infeasible(purfling, monkeypatch):  # type: ignore[no-untyped-def]
    monkeypatch.setattr("purfling.reckonings.plan.compute.solve", lambda *_: None)
    run = purfling("plan", EXAMPLES / "plan.json", "--evaluations", "1", "--json")
    assert (run.code, run.out) == (1, "")
    assert "no proof" in run.err


def test_planning_anew_is_refused_and_not_ignored(purfling, tmp_path):  # type: ignore[no-untyped-def]
    old = tmp_path / "old.json"
    old.write_text(purfling("plan", EXAMPLES / "plan.json", "--evaluations", "1", "--json").out)
    run = purfling("plan", EXAMPLES / "plan.json", "--from", old)
    assert (run.code, run.out) == (1, "")
    assert "not built yet" in run.err
