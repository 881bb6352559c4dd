"""``purfling bow`` as a user types it."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
Command = Callable[..., Any]
Write = Callable[[str], Path]

BOW = (
    '[bow]\nmass_g = 60.0\nbalance_mm = 190.0\ndatum = "frog_front"\nhair = "tight"\nfrog_length_mm = 50.0\n'
)
HAIR = '[hair]\ntied = "wet"\nlength_mm = 650.0\nwidth_mm = 10.0\nhumidity_percent = 50.0\n'


def test_example(purfling: Command) -> None:
    found = purfling("bow", EXAMPLES / "bow.toml", "--json").answer
    r = found["results"]
    assert set(r["balance_mm"]) == {"frog_front", "stick_end", "button", "ferrule"}
    assert set(r["change"]) >= {"mass_g", "balance_mm"}
    assert set(r["stick"]) >= {
        "mass_g", "centre_mm", "stiffness_n_per_mm", "modulus_gpa", "taper_deviation_mm"
    }  # fmt: skip
    assert set(r["hair"]) >= {"count", "mass_g", "tie_length_mm", "shrink_mm", "frog_travel_needed_mm"}
    assert r["camber"]["deepest_mm"] == pytest.approx(15.2, abs=0.1)
    assert r["inertia_hand_kg_m2"] == pytest.approx(4.2e-3, rel=0.1)
    assert found["inputs"]["hair"]["hair_date"] == "2025-04-14"
    assert all(w["text"] for w in found["warnings"])


@pytest.mark.parametrize(
    ("cut", "word"),
    [
        ('datum = "frog_front"\n', "datum"),
        ('hair = "tight"\n', "bow.hair"),
        ("frog_length_mm = 50.0\n", "frog_length_mm"),
        ("mass_g = 60.0\n", "mass_g"),
    ],
)
def test_a_balance_without_what_makes_it_one_is_refused(
    purfling: Command, write_slip: Write, cut: str, word: str
) -> None:
    done = purfling("bow", write_slip(BOW.replace(cut, "")), "--json")
    assert (done.code, done.out) == (1, "")
    assert word in done.err and len(done.err.strip()) <= 300


@pytest.mark.parametrize(
    ("cut", "word"),
    [
        ('tied = "wet"\n', "tied"),
        ("length_mm = 650.0\n", "length_mm"),
        ("humidity_percent = 50.0\n", "humidity_percent"),
    ],
)
def test_hair_without_wet_or_dry_is_refused(
    purfling: Command, write_slip: Write, cut: str, word: str
) -> None:
    done = purfling("bow", write_slip(HAIR.replace(cut, "")))
    assert (done.code, done.out) == (1, "")
    assert word in done.err


def test_wet_is_longer_than_dry(purfling: Command, write_slip: Write) -> None:
    wet = purfling("bow", write_slip(HAIR), "--json").answer["results"]["hair"]
    dry = purfling("bow", write_slip(HAIR.replace("wet", "dry")), "--json").answer["results"]["hair"]
    # Human hair from wet to 50 percent, 650 mm: 3.5 to 4.5 mm.
    assert 3.5 < wet["tie_length_mm"] - dry["tie_length_mm"] < 4.5
    assert dry["shrink_mm"] == 0
    assert wet["count"] == 170


@pytest.mark.parametrize(
    "more",
    [
        '[[change]]\npart = "lapping"\nwire_mm = 30\nlength_mm = 70.0\nfrom_mm = 75.0\n',
        '[[change]]\npart = "lapping"\nwire_mm = 0.3\nlength_mm = 70.0\n',
        '[[change]]\npart = "leather"\nmass_g = 0.2\n',
        '[[change]]\npart = "leather"\nat_mm = 62.0\n',
        '[[change]]\npart = "saddle"\nmass_g = 0.2\nat_mm = 62.0\n',
        '[[change]]\npart = "leather"\nwire_mm = 0.3\nlength_mm = 70.0\nat_mm = 62.0\n',
        '[[change]]\npart = "lapping"\nmass_g = 1.0\nwire_mm = 0.3\nlength_mm = 70.0\nat_mm = 62.0\n',
        '[[part]]\nname = "frog"\nmass_g = 70.0\nat_mm = 20.0\n',
        "[[stick]]\nat_mm = 20.0\ndiameter_mm = 8.6\n",
        "[camber]\nat_mm = [0.0, 350.0, 700.0]\nheight_mm = [0.0, 15.0]\n",
        "[deflection]\nsupports_mm = [50.0, 690.0]\nload_at_mm = 700.0\nload_n = 5.0\ndeflection_mm = 7.0\n",
        "[pendulum]\npivot_mm = 0.0\nperiod_s = 0.5\n",
        HAIR + 'hair_date = "soon"\n',
        "[bows]\n",
    ],
)
def test_refusals(purfling: Command, write_slip: Write, more: str) -> None:
    done = purfling("bow", write_slip(BOW + more), "--json")
    assert (done.code, done.out) == (1, "")
    assert 0 < len(done.err.strip()) <= 300
    assert done.err.count("\n") == 1


def test_nothing_of_a_bow_is_refused(purfling: Command, write_slip: Write) -> None:
    done = purfling("bow", write_slip('[body]\nfamily = "violin"\n'))
    assert done.code == 1 and "[bow]" in done.err


def test_tables_of_other_commands_are_passed_over(purfling: Command, write_slip: Write) -> None:
    slip = write_slip(BOW + '[state]\ntension = "strung"\n[nut]\nspacing_mm = 16.5\n')
    assert purfling("bow", slip, "--json").answer["status"] in ("ok", "estimate")


def test_the_frog_s_material_leads_its_caution(purfling: Command, write_slip: Write) -> None:
    for name, code in (
        ("tortoiseshell", "bow.heat_never"),
        ("ebony", "bow.heat_ask"),
        ("cheese", "bow.heat_never"),
    ):
        slip = write_slip(BOW + f'frog_material = "{name}"\n')
        assert code in purfling("bow", slip, "--json").answer["results"]["cautions"]


@pytest.mark.parametrize("language", ["en", "de"])
def test_files_are_repeatable(purfling: Command, tmp_path: Path, language: str) -> None:
    words = [
        "bow",
        EXAMPLES / "bow.toml",
        "-o",
        tmp_path / "out",
        "--lang",
        language,
        "--print-scale",
        "1.004",
    ]
    said = purfling(*words)
    assert said.code == 0, said.err
    first = {p.name: p.read_bytes() for p in (tmp_path / "out").iterdir()}
    assert set(first) == {
        "bow.json", "bow-sheet.pdf", "bow-side.svg", "bow-camber.svg", "bow-reach.svg", "bow-strips.pdf",
        "camber-strip.svg", "camber-strip.dxf", "handle-strip.svg", "handle-strip.dxf",
    }  # fmt: skip
    assert purfling(*words).out == said.out
    assert first == {p.name: p.read_bytes() for p in (tmp_path / "out").iterdir()}


def test_direction_is_spoken(purfling: Command) -> None:
    said = purfling("bow", EXAMPLES / "bow.toml").out
    assert "HEAVIER" in said and "TOWARDS THE FROG" in said
    assert "SCHWERER" in purfling("bow", EXAMPLES / "bow.toml", "--lang", "de").out
