"""``purfling bridge`` as it is typed: keys, defaults, refusals, files, languages."""

import json
import math
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.conftest import EXAMPLES, Run

Purfling = Callable[..., Run]
Write = Callable[..., Path]
COARSE = "[mesh]\nboundary_mm = 1.0\ninside_mm = 2.5\n"
RECTANGLE = "ring,x_mm,y_mm\n0,-10,0\n0,10,0\n0,10,30\n0,-10,30\n"


def slip_with_rings(write_slip: Write, rows: str, more: str = "", name: str = "rings.csv") -> Path:
    write_slip(rows, name)
    return write_slip(f'[outline]\nrings_file = "{name}"\n{COARSE}{more}')


def test_empty_slip_computes_the_drawing_with_its_defaults(purfling: Purfling, write_slip: Write) -> None:
    run = purfling("bridge", write_slip(""), "--json")
    answer = run.answer
    results = answer["results"]
    assert answer["status"] == "estimate"
    assert "bridge.absolute_hz" in [w["code"] for w in answer["warnings"]]
    assert results["scale"] is None
    assert len(results["modes"]) >= 4
    assert {m["kind"] for m in results["modes"]} >= {"rocking", "bouncing"}
    assert [m["hz"] for m in results["modes"]] == sorted(m["hz"] for m in results["modes"])
    assert all(0 <= m["participation"] <= 1 for m in results["modes"])
    assert [c["name"] for c in results["cuts"]] == ["waist", "ankles", "heart", "kidneys", "feet", "top"]
    for cut in results["cuts"]:
        assert set(cut) >= {"name", "rocking_percent", "bouncing_percent", "mass_mg"}
    assert set(results["lean"]) >= {"stress_mpa", "reserve_held", "reserve_free", "verdict"}
    total = results["mass_above_waist_g"] + results["mass_below_waist_g"]
    assert total == pytest.approx(results["mass_g"], rel=1e-5)
    assert 8000 < results["dof"] < 14000
    given = {d["field"] for d in answer["defaults"]}
    assert {"outline.family", "mesh.boundary_mm", "mesh.inside_mm", "wood.preset", "feet.clamped"} <= given
    assert "cut 1 of 6: waist" in run.err


def test_table_shows_no_hertz_until_one_was_measured(purfling: Purfling, write_slip: Write) -> None:
    bare = purfling("bridge", write_slip(COARSE))
    assert "%" in bare.out and " Hz" not in bare.out and "kHz" not in bare.out
    tapped = purfling("bridge", write_slip(COARSE + "[measured]\nrocking_hz = 3000\n"))
    assert "rocking: 3000 Hz" in tapped.out


def test_measured_rocking_scales_but_leaves_hz_as_computed(purfling: Purfling, write_slip: Write) -> None:
    bare = purfling("bridge", write_slip(COARSE), "--json").answer["results"]
    slip = write_slip(COARSE + "[measured]\nrocking_hz = 3000\nadded_mass_mg = 20\nloaded_hz = 2950\n")
    answer = purfling("bridge", slip, "--json").answer
    results = answer["results"]
    assert answer["status"] == "ok"
    assert [m["hz"] for m in results["modes"]] == [m["hz"] for m in bare["modes"]]
    rocking = next(m for m in results["modes"] if m["kind"] == "rocking")
    assert results["scale"] == pytest.approx(3000 / rocking["hz"], rel=1e-5)
    assert rocking["scaled_hz"] == pytest.approx(3000)
    assert results["measured"]["top_mass_g"] == pytest.approx(0.02 / ((3000 / 2950) ** 2 - 1), rel=1e-5)
    assert [c["rocking_percent"] for c in results["cuts"]] == [c["rocking_percent"] for c in bare["cuts"]]


def test_several_taps_give_mean_and_error(purfling: Purfling, write_slip: Write) -> None:
    slip = write_slip(COARSE + "[measured]\ntaps_hz = [2900, 3000, 3100]\n")
    measured = purfling("bridge", slip, "--json").answer["results"]["measured"]
    assert measured["rocking_hz"] == 3000
    assert measured["rocking_error_hz"] == pytest.approx(100 / math.sqrt(3), rel=1e-5)


def test_weighing_fits_the_density(purfling: Purfling, write_slip: Write) -> None:
    results = purfling("bridge", write_slip(COARSE + "[measured]\nmass_g = 1.6\n"), "--json").answer[
        "results"
    ]
    assert results["mass_g"] == pytest.approx(1.6)
    assert results["density_kg_m3"] == pytest.approx(1.6e6 / results["volume_mm3"], rel=1e-4)


def test_rings_from_csv_have_no_waist_and_no_cut_unasked(purfling: Purfling, write_slip: Write) -> None:
    slip = slip_with_rings(write_slip, RECTANGLE, "[thickness]\nfoot_mm = 4\ntop_mm = 2\n")
    results = purfling("bridge", slip, "--json").answer["results"]
    assert results["mass_g"] == pytest.approx(20 * 30 * 3 * 705.6e-6, rel=1e-5)
    assert results["centre_of_mass_mm"] == pytest.approx([0, 30 * (4 + 2 * 2) / (3 * 6)], abs=1e-4)
    assert results["mass_above_waist_g"] is None and results["mass_below_waist_g"] is None
    assert results["cuts"] == []


def test_cuts_that_make_no_sense_on_rings_are_left_out(purfling: Purfling, write_slip: Write) -> None:
    cuts = '[[cut]]\nplace = "waist"\namount_mm = 0.5\n[[cut]]\nplace = "top"\namount_mm = 1.0\n'
    more = "[thickness]\nfoot_mm = 3\ntop_mm = 3\n" + cuts
    answer = purfling("bridge", slip_with_rings(write_slip, RECTANGLE, more), "--json").answer
    (cut,) = answer["results"]["cuts"]
    assert cut["name"] == "top"
    assert cut["mass_mg"] == pytest.approx(-20 * 3 * 0.7056, rel=1e-4)
    assert "bridge.cut_absent" in [w["code"] for w in answer["warnings"]]


def test_uniform_column_has_eulers_reserve(purfling: Purfling, write_slip: Write) -> None:
    more = "[thickness]\nfoot_mm = 3\ntop_mm = 3\n"
    more += '[lean]\nangle_deg = 2\nface = "centre"\nload_n = 80\ncreep = 0\n'
    lean = purfling("bridge", slip_with_rings(write_slip, RECTANGLE, more), "--json").answer["results"][
        "lean"
    ]
    euler = math.pi**2 * 1829.52 * 20 * 27 / 12 / (4 * 900)
    assert lean["reserve_free"] == pytest.approx(euler / 80, rel=1e-4)
    assert lean["reserve_held"] == pytest.approx(euler / 80 * 4 * 4.493409**2 / math.pi**2, rel=1e-4)
    assert lean["verdict"] == "straighten"


def test_over_the_critical_load_the_free_column_has_no_stress(purfling: Purfling, write_slip: Write) -> None:
    more = "[thickness]\nfoot_mm = 3\ntop_mm = 3\n[lean]\nload_n = 400\ncreep = 0\n"
    answer = purfling("bridge", slip_with_rings(write_slip, RECTANGLE, more), "--json").answer
    assert answer["status"] == "outside_validity"
    assert answer["results"]["lean"]["stress_mpa"] is None
    assert "bridge.free_falls" in [w["code"] for w in answer["warnings"]]


def test_four_times_the_stiffness_doubles_the_frequencies(purfling: Purfling, write_slip: Write) -> None:
    base = purfling("bridge", write_slip(COARSE), "--json").answer["results"]["modes"]
    stiff = "[wood]\nEL_MPa = 55440\nER_MPa = 7318.08\nGLR_MPa = 6153.84\n"
    four = purfling("bridge", write_slip(COARSE + stiff), "--json").answer["results"]["modes"]
    assert [m["hz"] for m in four] == pytest.approx([2 * m["hz"] for m in base], rel=1e-5)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("[thickness]\ntop_mm = 0.2\n", "0.3 mm"),
        ("[wood]\nnuLR = 3\n", "wood.nuLR"),
        ("[wood]\nEL_MPa = -1\n", "wood.EL_MPa"),
        ('[outline]\nrings_file = "none.csv"\n', "none.csv"),
        ('[outline]\nfamily = "bass"\n', "outline.family"),
        ("[outline]\narch_mm = 22\n", "crosses or touches itself"),
        ("[outline]\nfamly = 1\n", "family"),
        ("[feet]\nclamped = false\n", "feet.stiffness_n_per_mm3"),
        ("[feet]\nclamped = true\nstiffness_n_per_mm3 = 10\n", "feet.clamped"),
        ('[[cut]]\nplace = "nose"\namount_mm = 1\n', "place"),
        ('[[cut]]\nplace = "waist"\namount_mm = 9\n', "waist"),
        ("[measured]\nrocking_hz = 3000\nadded_mass_mg = 20\n", "measured.loaded_hz"),
        ("[measured]\nrocking_hz = 3000\nadded_mass_mg = 20\nloaded_hz = 3100\n", "3000"),
        ("[[station]]\nheight_mm = 3\nthickness_mm = 3\n[thickness]\nfoot_mm = 4\n", "thickness.foot_mm"),
        ("[mesh]\nboundary_mm = 2\ninside_mm = 1\n", "mesh.inside_mm"),
    ],
)
def test_refusals_name_what_is_wrong(purfling: Purfling, write_slip: Write, text: str, words: str) -> None:
    run = purfling("bridge", write_slip(text))
    assert run.code == 1
    assert run.out == ""
    assert words in run.err
    assert len(run.err.strip()) <= 300 and run.err.count("\n") == 1


@pytest.mark.parametrize(
    ("rows", "words"),
    [
        ("ring,x_mm,y_mm\n0,-10,0\n0,10,0\n0,-10,20\n0,10,20\n", "crosses"),
        ("ring,x_mm,y_mm\n0,-10,1\n0,10,1\n0,10,20\n0,-10,20\n", "do not stand"),
        ("x,y\n1,2\n", "ring,x_mm,y_mm"),
        ("ring,x_mm,y_mm\n0,a,2\n", "line 2"),
        ("ring,x_mm,y_mm\n1,0,2\n1,3,4\n1,0,4\n", "ring 0"),
    ],
)
def test_rings_of_no_bridge_are_refused(purfling: Purfling, write_slip: Write, rows: str, words: str) -> None:
    run = purfling("bridge", slip_with_rings(write_slip, rows))
    assert (run.code, run.out) == (1, "")
    assert words in run.err


@pytest.mark.parametrize("name", ["rings.dxf", "rings.svg", "rings.png"])
def test_files_that_are_no_drawing_are_refused(purfling: Purfling, write_slip: Write, name: str) -> None:
    run = purfling("bridge", slip_with_rings(write_slip, "nothing of the kind", name=name))
    assert (run.code, run.out) == (1, "")
    assert name in run.err and len(run.err) <= 301


def test_missing_slip_is_refused_and_an_unknown_option_is_not_known(purfling: Purfling) -> None:
    assert purfling("bridge").code == 1
    assert purfling("bridge", "none.toml").code == 1
    assert purfling("bridge", EXAMPLES / "bridge.toml", "--sideways").code == 2


def test_other_tables_are_passed_over_and_the_card_fills_in(purfling: Purfling, write_slip: Write) -> None:
    card = (
        '[body]\nfamily = "viola"\n[bridge]\nlean_deg = 1.5\nfoot_span_mm = 47\n[neck]\nprojection_mm = 32\n'
    )
    answer = purfling("bridge", write_slip(card + COARSE), "--json").answer
    assert answer["inputs"]["outline.family"] == "viola"
    assert answer["inputs"]["lean.angle_deg"] == 1.5
    assert answer["inputs"]["outline.foot_span_mm"] == 47


def test_same_slip_gives_the_same_bytes_and_files_are_read_back(
    purfling: Purfling, write_slip: Write, tmp_path: Path
) -> None:
    from purfling.reckonings.bridge.cache import forget

    slip = write_slip(COARSE)
    first = purfling("bridge", slip, "--json", "-o", tmp_path / "a")
    forget()
    second = purfling("bridge", slip, "--json", "-o", tmp_path / "b")
    assert first.out == second.out
    names = sorted(p.name for p in (tmp_path / "a").iterdir())
    assert "bridge-sheet.pdf" in names and "bridge-face.svg" in names
    for name in names:
        assert (tmp_path / "a" / name).read_bytes() == (tmp_path / "b" / name).read_bytes()
    original = json.loads(first.out)["results"]
    for file in ("bridge-rings.csv", "bridge-outline.dxf"):
        again = tmp_path / "a" / "again.toml"
        again.write_text(f'[outline]\nrings_file = "{file}"\n{COARSE}', encoding="utf-8")
        read = purfling("bridge", again, "--json").answer["results"]
        assert read["mass_g"] == pytest.approx(original["mass_g"], rel=1e-4)
        assert read["waist_height_mm"] == pytest.approx(original["waist_height_mm"], abs=0.2)


def test_german_table_speaks_german(purfling: Purfling) -> None:
    run = purfling("bridge", EXAMPLES / "bridge.toml", "--lang", "de")
    assert "Taille" in run.out and "Wiegen" in run.out and ",40 mm" in run.out
