"""``purfling dressing`` as a user types it."""

import json
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import tomli_w

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
Command = Callable[..., Any]
Write = Callable[..., Path]
LENGTH, STRING = 270.0, 328.0
KEYS = {
    "objective_mm",
    "max_removal_mm",
    "mean_removal_mm",
    "removal_mm",
    "removal_error_mm",
    "surface",
    "binding",
    "edge_left_mm",
    "scoop_mm",
    "nut_change_mm",
    "projection_change_mm",
    "bridge_change_mm",
    "margin_ratio_after",
    "dressings_left",
    "blocked_by",
}


def grid_slip(n: int = 9, m: int = 7, pit: float = 0.0, scoop: float = 0.55) -> dict[str, Any]:
    """A violin's board on a grid: one radius of 42, a parabolic scoop in every section."""
    x = np.linspace(0, LENGTH, n)
    u = x / LENGTH
    half = 11.5 + 9 * u
    y = np.outer(half, np.linspace(-1, 1, m))
    z = -scoop * 4 * (u * (1 - u))[:, None] - y * y / (42 + np.sqrt(42**2 - y * y))
    z[n // 2, m // 2] -= pit
    places = [[round(float(a), 4), round(float(b), 4)] for a, b in zip(y[0], y[-1], strict=True)]
    return {
        "body": {"family": "violin"},
        "neck": {"string_length_mm": STRING},
        "board": {"length_mm": LENGTH},
        "grid": {
            "station_mm": x.tolist(),
            "line_mm": places,
            "height_mm": [[float(v) for v in r] for r in z],
        },
        "edge": {"bass_mm": 5.5, "treble_mm": 5.5, "least_mm": 4.0},
        "wish": {
            "scoop_low_mm": [0.3, 0.9],
            "scoop_high_mm": [0.2, 0.75],
            "radius_nut_mm": [41, 43],
            "radius_end_mm": [41, 43],
            "projection_loss_max_mm": 1.0,
        },
        "asked": {"neck_straight": True, "board_sound": True, "blackened": False},
    }


@pytest.fixture
def reckon(purfling: Command, write_slip: Write) -> Callable[[dict[str, Any]], dict[str, Any]]:
    def run(tables: dict[str, Any]) -> dict[str, Any]:
        found: dict[str, Any] = purfling("dressing", write_slip(tomli_w.dumps(tables)), "--json").answer
        return found

    return run


def codes(answer: dict[str, Any]) -> set[str]:
    return {w["code"].removeprefix("dressing.") for w in answer["warnings"]}


def test_results_to_the_letter(reckon: Any) -> None:
    answer = reckon(grid_slip(pit=0.15))
    r = answer["results"]
    assert set(r) >= KEYS
    assert answer["status"] == "ok"
    assert set(r["surface"]) == {"centre_mm", "tilt", "radius_nut_mm", "radius_end_mm"}
    assert len(r["surface"]["centre_mm"]) == len(r["surface"]["tilt"]) == len(r["removal_mm"]) == 9
    assert all(len(row) == 7 for row in r["removal_mm"])
    assert set(r["edge_left_mm"]) == {"bass", "treble"}
    assert all(set(b) == {"station_mm", "line_mm", "why"} for b in r["binding"]) and r["binding"]
    for key in ("scoop_mm", "bridge_change_mm", "margin_ratio_after"):
        assert len(r[key]) == 4
    assert r["blocked_by"] == []
    assert r["objective_mm"] == pytest.approx(
        0.7 * r["max_removal_mm"] + 0.3 * r["mean_removal_mm"], rel=1e-5
    )
    fields = {d["field"] for d in answer["defaults"]}
    assert {"nut.spacing_mm", "bridge.spacing_mm", "neck.board_slope_deg", "end.clearance_mm"} <= fields


def test_good_board_needs_nothing(reckon: Any) -> None:
    r = reckon(grid_slip())["results"]
    assert r["objective_mm"] < 1e-4
    assert r["dressings_left"] is None
    assert r["nut_change_mm"] == pytest.approx(0, abs=1e-4)
    assert r["bridge_change_mm"] == pytest.approx([0] * 4, abs=1e-4)


def test_identities_on_an_even_layer(reckon: Any) -> None:
    """0.4 off both ends: nut, projection and bridge all 0.40 / cos(slope) lower (worked figures of the
    trade).
    """
    tables = grid_slip()
    tables["wish"] |= {"radius_nut_mm": [42, 42], "radius_end_mm": [42, 42]}
    tables["neck"]["board_slope_deg"] = 8.3
    tables["pit"] = [
        {"station_mm": s, "line_mm": y, "height_mm": -y * y / (42 + np.sqrt(42**2 - y * y)) - 0.4}
        for s, y in ((0.0, -8.0), (0.0, 8.0), (LENGTH, -14.0), (LENGTH, 14.0))
    ]
    r = reckon(tables)["results"]
    assert r["nut_change_mm"] == pytest.approx(-0.4, abs=1e-4)
    assert r["projection_change_mm"] == pytest.approx(-0.4 / np.cos(np.radians(8.3)), abs=1e-4)
    assert r["bridge_change_mm"] == pytest.approx([-0.4 / np.cos(np.radians(8.3))] * 4, abs=1e-3)
    assert r["edge_left_mm"] == pytest.approx({"bass": 5.1, "treble": 5.1}, abs=1e-4)
    # (5.1 - 4.0) / 0.4 = 2.75 further ones
    assert r["dressings_left"] == 2


def test_only_the_end(reckon: Any) -> None:
    """0.4 off at the end alone: the bridge becomes 0.49 lower on 328 / 270 (worked figure)."""
    tables = grid_slip()
    tables["neck"]["board_slope_deg"] = 1.0
    tables["pit"] = [
        {"station_mm": LENGTH, "line_mm": y, "height_mm": -0.4 - y * y / 80} for y in (-14.0, 14.0)
    ]
    tables["wish"]["projection_loss_max_mm"] = 5.0
    r = reckon(tables)["results"]
    nut_off = -r["nut_change_mm"]
    end_off = r["removal_mm"][-1][3]
    expected = -(end_off * STRING / LENGTH - nut_off * (STRING / LENGTH - 1)) / np.cos(np.radians(1.0))
    assert r["projection_change_mm"] == pytest.approx(expected, abs=1e-4)
    assert expected < -0.3


def test_nan_is_null(reckon: Any) -> None:
    tables = grid_slip()
    tables["grid"]["height_mm"][2][3] = float("nan")
    answer = reckon(tables)
    assert answer["results"]["removal_mm"][2][3] is None
    assert "not_measured" in codes(answer)


def test_infeasible_names_values_that_make_it_feasible(reckon: Any) -> None:
    tables = grid_slip(scoop=1.3)
    tables["edge"] = {"bass_mm": 4.2, "treble_mm": 4.3, "least_mm": 4.0}
    tables["wish"]["projection_loss_max_mm"] = 0.1
    answer = reckon(tables)
    assert answer["status"] == "infeasible"
    blocks = answer["results"]["blocked_by"]
    assert blocks and answer["results"]["removal_mm"] is None
    for b in blocks:
        if b["constraint"].startswith("edge"):
            tables["edge"]["least_mm"] = min(tables["edge"]["least_mm"], b["needed_mm"])
        elif b["constraint"] == "projection":
            tables["wish"]["projection_loss_max_mm"] = b["needed_mm"]
        else:
            band = tables["wish"][f"{b['constraint']}_mm"]
            band[0 if b["bound"] == "min" else 1] = b["needed_mm"]
    granted = reckon(tables)
    assert granted["status"] == "ok"
    assert granted["results"]["blocked_by"] == []


def test_refer_first(reckon: Any) -> None:
    for key, reason in (("neck_straight", "refer_bent"), ("board_sound", "refer_loose")):
        tables = grid_slip()
        tables["asked"][key] = False
        answer = reckon(tables)
        assert answer["warnings"][0]["code"] == f"dressing.{reason}"
        assert answer["warnings"][0]["text"].startswith("Refer first")
        assert "removal_mm" not in answer["results"]


def test_blackened_warns_and_not_asked_warns(reckon: Any) -> None:
    tables = grid_slip()
    tables["asked"]["blackened"] = True
    assert "blackened" in codes(reckon(tables))
    del tables["asked"]
    answer = reckon(tables)
    assert "not_asked" in codes(answer) and answer["results"]["max_removal_mm"] is not None


def test_example_and_pits(reckon: Any) -> None:
    tables = tomllib.loads((EXAMPLES / "dressing.toml").read_text())
    answer = reckon(tables)
    assert answer["status"] == "ok"
    assert "built" in codes(answer) and "unseen" in codes(answer)
    assert 0.05 < answer["results"]["max_removal_mm"] < 0.5
    tables["pit"] = []
    assert reckon(tables)["results"]["objective_mm"] <= answer["results"]["objective_mm"] + 1e-4


def test_few_gaps_are_an_estimate(reckon: Any) -> None:
    tables = tomllib.loads((EXAMPLES / "dressing.toml").read_text())
    for line in tables["line"]:
        line["station_mm"], line["gap_mm"] = line["station_mm"][::3], line["gap_mm"][::3]
    answer = reckon(tables)
    assert answer["status"] == "estimate" and "too_few" in codes(answer)


def test_after_planing(reckon: Any) -> None:
    """Gaps of the plan itself are as planned; less gap is wood still standing."""
    tables = tomllib.loads((EXAMPLES / "dressing.toml").read_text())
    tables["after"] = [{"string": "low", "station_mm": [67, 135, 203], "gap_mm": [0.4, 0.5, 0.4]}]
    first = reckon(tables)["results"]["after"][0]
    tables["after"][0]["gap_mm"] = [round(g, 4) for g in first["planned_gap_mm"]]
    answer = reckon(tables)
    assert "as_planned" in codes(answer)
    assert answer["results"]["after"][0]["still_high_mm"] == pytest.approx([0] * 3, abs=1e-4)
    tables["after"][0]["gap_mm"][1] -= 0.1
    answer = reckon(tables)
    assert answer["results"]["after"][0]["still_high_mm"][1] == pytest.approx(0.1, abs=1e-4)
    assert "still_high" in codes(answer)


def test_a_whole_card_gives_clearances_and_slope(reckon: Any) -> None:
    card = tomllib.loads((EXAMPLES / "violin.toml").read_text())
    own = grid_slip()
    tables = {
        **{k: v for k, v in card.items() if k in ("nut", "end", "bridge", "strings", "state", "saddle")},
        **own,
    }
    tables["neck"] = {**card["neck"], "string_length_mm": STRING}
    answer = reckon(tables)
    fields = {d["field"] for d in answer["defaults"]}
    assert "end.clearance_mm" not in fields and "neck.board_slope_deg" not in fields
    assert all(ratio > 1 for ratio in answer["results"]["margin_ratio_after"])


def test_margins_are_those_of_the_margins_command(reckon: Any, purfling: Command, write_slip: Write) -> None:
    """A good board keeps its surface; `purfling margins` on the same scoops gives the same least ratios."""
    card = tomllib.loads((EXAMPLES / "violin.toml").read_text())
    kept = ("nut", "end", "bridge", "strings", "state", "saddle", "body")
    own = grid_slip(n=19)
    tables = {**own, **{k: v for k, v in card.items() if k in kept}, "neck": card["neck"]}
    tables["neck"]["string_length_mm"] = STRING
    tables["wish"] |= {"radius_nut_mm": [42, 42], "radius_end_mm": [42, 42]}
    tables["board"] |= {"radius_nut_mm": 42.0, "radius_end_mm": 42.0}
    answer = reckon(tables)
    assert answer["results"]["objective_mm"] < 1e-4
    x = np.linspace(0, LENGTH, 19)
    u = x / LENGTH
    names = answer["results"]["strings"]
    spacing = (tables["nut"]["spacing_mm"], tables["bridge"]["spacing_mm"])
    profiles = []
    for i, name in enumerate(names):
        share = i / (len(names) - 1) - 0.5
        y = share * spacing[0] + share * (spacing[1] - spacing[0]) * x / STRING
        z = -0.55 * 4 * u * (1 - u) - y * y / (42 + np.sqrt(42**2 - y * y))
        depth = z[0] * (1 - u) + z[-1] * u - z
        profiles.append({"string": name, "station_mm": x[1:-1].tolist(), "depth_mm": depth[1:-1].tolist()})
    rest = {k: v for k, v in tables.items() if k in (*kept, "neck", "board")}
    slip = write_slip(tomli_w.dumps({**rest, "profile": profiles}), "margins.toml")
    rows = purfling("margins", slip, "--json").answer["results"]["margins"]
    for name, ratio in zip(names, answer["results"]["margin_ratio_after"], strict=True):
        least = min(r["bowed_ratio"] for r in rows if r["string"] == name)
        assert ratio == pytest.approx(least, rel=3e-3)  # straight pieces of two profiles


def test_wood_without_end_is_outside_validity(reckon: Any) -> None:
    """No bass edge given and a scoop nobody can have: said, not hidden."""
    tables = grid_slip(scoop=1.2)
    tables["edge"] = {"treble_mm": 4.05, "least_mm": 4.0}
    tables["wish"] |= {"scoop_low_mm": [0.1, 0.15], "projection_loss_max_mm": 0.2}
    answer = reckon(tables)
    assert answer["status"] in ("outside_validity", "infeasible")
    assert "no_edge_bass" in codes(answer)
    assert answer["results"]["edge_left_mm"] is None or "too_much" in codes(answer)


def test_leave_lets_a_pit_stay(reckon: Any) -> None:
    tables = grid_slip()
    tables["pit"] = [{"station_mm": 101.25, "line_mm": 0.0, "height_mm": -0.515625 - 0.12}]
    assert reckon(tables)["results"]["max_removal_mm"] > 0.05
    tables["wish"]["leave_mm"] = 0.12
    assert reckon(tables)["results"]["objective_mm"] < 1e-3


def test_minimal_slip(reckon: Any) -> None:
    """Family, both lengths and a board: the rest comes from the tables and is listed."""
    tables = {k: v for k, v in grid_slip(scoop=0.75).items() if k in ("body", "neck", "board", "grid")}
    answer = reckon(tables)
    fields = {d["field"] for d in answer["defaults"]}
    assert {
        "wish.scoop_low_mm",
        "wish.radius_end_mm",
        "edge.least_mm",
        "wish.projection_loss_max_mm",
    } <= fields
    assert answer["results"]["edge_left_mm"] == {"bass": None, "treble": None}
    assert {"no_edge_bass", "no_edge_treble", "not_asked"} <= codes(answer)


def csv_grid(tables: dict[str, Any], comma: bool = False) -> str:
    grid = tables["grid"]
    cell, sep = (lambda v: f"{v:.6f}".replace(".", ",") if comma else f"{v:.6f}"), ";" if comma else ","
    head = sep.join(["station_mm", *(":".join(cell(v) for v in pair) for pair in grid["line_mm"])])
    rows = [
        sep.join([cell(s), *(cell(v) for v in row)])
        for s, row in zip(grid["station_mm"], grid["height_mm"], strict=True)
    ]
    return "\n".join([head, *rows]) + "\n"


@pytest.mark.parametrize("comma", [False, True])
def test_csv_grid_is_the_grid(reckon: Any, purfling: Command, write_slip: Write, comma: bool) -> None:
    tables = grid_slip(pit=0.2)
    inside = reckon(tables)["results"]
    file = write_slip(csv_grid(tables, comma), "board.csv")
    del tables["grid"]
    slip = write_slip(tomli_w.dumps(tables))
    by_option = purfling("dressing", slip, "--csv", file, "--json").answer["results"]
    assert by_option["objective_mm"] == pytest.approx(inside["objective_mm"], abs=1e-4)
    tables["grid"] = {"csv": "board.csv"}
    assert reckon(tables)["results"] == by_option


def test_csv_lines_are_the_lines(reckon: Any, write_slip: Write) -> None:
    tables = tomllib.loads((EXAMPLES / "dressing.toml").read_text())
    inside = reckon(tables)["results"]
    rows = [
        f"{line['string']},{s},{g}"
        for line in tables["line"]
        for s, g in zip(line["station_mm"], line["gap_mm"], strict=True)
    ]
    write_slip("string,station_mm,gap_mm\n" + "\n".join(rows) + "\n", "gaps.csv")
    del tables["line"]
    tables["grid"] = {"csv": "gaps.csv"}
    assert reckon(tables)["results"] == inside


def test_csv_long_form(reckon: Any, write_slip: Write) -> None:
    tables = grid_slip()
    grid = tables["grid"]
    grid["line_mm"] = [-10.0, 0.0, 10.0]
    grid["height_mm"] = [
        [-1.2 - 0.1 * i * (8 - i) / 16, -0.1 * i * (8 - i) / 16, -1.2 - 0.1 * i * (8 - i) / 16]
        for i in range(9)
    ]
    tables["wish"] |= {"scoop_low_mm": [0.05, 0.9], "scoop_high_mm": [0.05, 0.9]}
    inside = reckon(tables)["results"]
    rows = [
        f"{s},{y},{z}"
        for s, row in zip(grid["station_mm"], grid["height_mm"], strict=True)
        for y, z in zip(grid["line_mm"], row, strict=True)
    ]
    write_slip("station_mm,line_mm,height_mm\n" + "\n".join(rows) + "\n", "board.csv")
    tables["grid"] = {"csv": "board.csv"}
    assert reckon(tables)["results"]["objective_mm"] == pytest.approx(inside["objective_mm"], abs=1e-6)


def edit(change: Callable[[dict[str, Any]], None]) -> Callable[[], dict[str, Any]]:
    def make() -> dict[str, Any]:
        tables = grid_slip()
        change(tables)
        return tables

    return make


REFUSED: dict[str, tuple[Callable[[dict[str, Any]], Any], str]] = {
    "bump": (lambda t: t["grid"]["height_mm"][4].__setitem__(3, 5.0), "slip of the pen"),
    "order": (lambda t: t["grid"]["station_mm"].__setitem__(2, 20.0), "station_mm"),
    "one line": (
        lambda t: t["grid"].update(line_mm=[0.0], height_mm=[[r[3]] for r in t["grid"]["height_mm"]]),
        "One line alone",
    ),
    "rows": (lambda t: t["grid"]["height_mm"].pop(), "height_mm"),
    "row length": (lambda t: t["grid"]["height_mm"][1].pop(), "height_mm[2]"),
    "nan station": (lambda t: t["grid"]["station_mm"].__setitem__(2, float("nan")), "station_mm"),
    "no family": (lambda t: t.pop("body"), "family"),
    "no board": (lambda t: t.pop("grid"), "no board"),
    "both": (lambda t: t.update(line=[{"string": "low", "station_mm": [50], "gap_mm": [0.5]}]), "[grid]"),
    "weights": (lambda t: t.update(weights={"max": 0, "mean": 0}), "weights"),
    "band": (lambda t: t["wish"].update(scoop_low_mm=[0.9, 0.3]), "scoop_low_mm"),
    "typo": (lambda t: t["wish"].update(scope_low_mm=[0.3, 0.9]), "scoop_low_mm"),
    "pit form": (lambda t: t.update(pit=[{"station_mm": 50, "line": "low", "depth_mm": 0.3}]), "pit"),
    "text": (lambda t: t["grid"]["height_mm"][1].__setitem__(1, "deep"), "height_mm[2][2]"),
    "clearance without datum": (lambda t: t.update(end={"clearance_mm": [5, 4.5, 4, 3.5]}), "state.tension"),
}


@pytest.mark.parametrize("case", REFUSED)
def test_refused_in_one_sentence(case: str, purfling: Command, write_slip: Write) -> None:
    change, said = REFUSED[case]
    done = purfling("dressing", write_slip(tomli_w.dumps(edit(change)())), "--json")
    assert done.code == 1 and done.out == ""
    assert said in done.err and len(done.err.strip()) <= 300 and done.err.count("\n") == 1


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("a,b,c\n1,2,3\n", "first row"),
        ("station_mm,-10,10\n0,1\n", "cells"),
        ("station_mm,-10,10\n0,x,1\n", "no number"),
        ("station_mm,line_mm,height_mm\n0,1,2\n0,1,2\n", "already given"),
    ],
)
def test_csv_is_refused_by_row(text: str, said: str, purfling: Command, write_slip: Write) -> None:
    tables = grid_slip()
    del tables["grid"]
    file = write_slip(text, "board.csv")
    done = purfling("dressing", write_slip(tomli_w.dumps(tables)), "--csv", file)
    assert done.code == 1 and said in done.err and done.out == ""


def test_plain_table_and_repeatable(purfling: Command) -> None:
    one = purfling("dressing", EXAMPLES / "dressing.toml")
    assert one.code == 0
    assert "Nut goes DOWN" in one.out and "Dust" in one.out
    german = purfling("dressing", EXAMPLES / "dressing.toml", "--lang", "de")
    assert "TIEFER" in german.out and "Staub" in german.out
    again = [purfling("dressing", EXAMPLES / "dressing.toml", "--json").out for _ in range(2)]
    assert again[0] == again[1] and json.loads(again[0])


def test_a_pit_off_the_board_is_refused(purfling, write_slip):  # type: ignore[no-untyped-def]
    text = (EXAMPLES / "dressing.toml").read_text(encoding="utf-8")
    slip = write_slip(text + '\n[[pit]]\nstation_mm = 520\nline = "high"\ndepth_mm = 0.1\n')
    run = purfling("dressing", slip)
    assert (run.code, run.out) == (1, "") and len(run.err) <= 301
