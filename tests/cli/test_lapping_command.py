"""``purfling lapping`` as a user types it."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
Command = Callable[..., Any]
Write = Callable[[str], Path]


def test_options_alone(purfling: Command) -> None:
    found = purfling("lapping", "--wire", "0.30", "--length", "75", "--handle", "8.5", "--json").answer
    r = found["results"]
    # Wound by hand: 250 turns, 6.912 m, 5.125 g of fine silver.
    assert r["turns"] == 250
    assert r["wire_mm"] == pytest.approx(6912, abs=0.5)
    assert r["mass_g"] == pytest.approx(5.125, abs=0.001)
    assert r["wire_to_cut_mm"] == pytest.approx(r["wire_mm"] + 300)
    assert r["underlay_mm"] == pytest.approx(0.3)
    assert r["balance_shift_mm"] is None
    assert found["status"] == "ok"
    assert {d["field"] for d in found["defaults"]} == {
        "lapping.material",
        "lapping.density_kg_m3",
        "lapping.tails_mm",
        "lapping.sheet_mm",
    }


def test_octagon_and_taper(purfling: Command) -> None:
    words = [
        "lapping",
        "--wire",
        "0.30",
        "--length",
        "75",
        "--handle",
        "8.4",
        "--handle-end",
        "8.0",
        "--json",
    ]
    turned = purfling(*words).answer["results"]
    flat = purfling(*words, "--octagonal").answer["results"]
    mean = purfling(*words[:5], "--handle", "8.2", "--json").answer["results"]
    # 250 turns on 8.2 take 6.68 m, worked by hand.
    assert mean["wire_mm"] == pytest.approx(6680, abs=5)
    assert turned["wire_mm"] == pytest.approx(mean["wire_mm"])
    assert flat["girth_mm"] == pytest.approx(3.3137 * 8.2, rel=1e-4)
    assert flat["wire_mm"] > turned["wire_mm"]


@pytest.mark.parametrize("wire", ["32", "30", "1", "1.5", "0", "30.0"])
def test_gauge_numbers_are_refused(purfling: Command, wire: str) -> None:
    done = purfling("lapping", "--wire", wire, "--length", "75", "--handle", "8.5", "--json")
    assert done.code == 1
    assert done.out == ""
    assert "SWG" in done.err and "AWG" in done.err and "mm" in done.err
    assert len(done.err.strip()) <= 300 and done.err.count("\n") == 1


def test_gauge_number_in_a_slip(purfling: Command, write_slip: Write) -> None:
    done = purfling("lapping", write_slip("[lapping]\nwire_mm = 32\nlength_mm = 75.0\nhandle_mm = 8.5\n"))
    assert done.code == 1
    assert "0.274" in done.err and "0.202" in done.err


@pytest.mark.parametrize(
    "words",
    [
        ["--length", "75", "--handle", "8.5"],
        ["--wire", "0.3", "--handle", "8.5"],
        ["--wire", "0.3", "--length", "75"],
        ["--wire", "nan", "--length", "75", "--handle", "8.5"],
        ["--wire", "-0.3", "--length", "75", "--handle", "8.5"],
        ["--wire", "0.3", "--length", "7500", "--handle", "8.5"],
        ["--wire", "0.3", "--length", "75", "--handle", "8.5", "--material", "tin"],
        ["--wire", "0.3", "--length", "75", "--handle", "8.5", "--print-scale", "2"],
        ["--wire", "0.3", "--length", "75", "--handle", "8.5", "--paper", "a0"],
        ["nowhere.toml"],
    ],
)
def test_refusals(purfling: Command, words: list[str]) -> None:
    done = purfling("lapping", *words)
    assert (done.code, done.out) == (1, "")
    assert 0 < len(done.err.strip()) <= 300


def test_unknown_option_exits_2(purfling: Command) -> None:
    assert purfling("lapping", "--gauge", "32").code == 2


BOW = """
[bow]
mass_g = 55.5
balance_mm = 195.0
datum = "frog_front"
hair = "tight"
frog_length_mm = 50.0
[lapping]
wire_mm = 0.30
length_mm = 72.0
handle_mm = 8.6
material = "silver"
from_mm = 75.0
"""


def test_shift_with_a_bow_is_the_lever(purfling: Command, write_slip: Write) -> None:
    r = purfling("lapping", write_slip(BOW), "--json").answer["results"]
    # By hand: 4.976 g of silver (240 turns on 8.6) centred at 111 on 55.5 g balanced at 245 from the end.
    assert r["mass_g"] == pytest.approx(4.976, abs=0.001)
    assert r["balance_shift_mm"] == pytest.approx(4.976 * (111 - 245) / (55.5 + 4.976), abs=0.01)


def test_an_old_lapping_is_taken_off_first(purfling: Command, write_slip: Write) -> None:
    old = BOW + '[[part]]\nname = "Lapping"\nmass_g = 2.5\nat_mm = 111.0\n'
    found = purfling("lapping", write_slip(old), "--json").answer
    assert found["results"]["bow_without_mass_g"] == pytest.approx(53.0)
    assert "lapping.old_taken_off" in [w["code"] for w in found["warnings"]]


@pytest.mark.parametrize(
    ("cut", "word"),
    [
        ('datum = "frog_front"\n', "datum"),
        ('hair = "tight"\n', "hair"),
        ("frog_length_mm = 50.0\n", "frog_length"),
    ],
)
def test_a_bow_without_its_datum_or_hair_is_refused(
    purfling: Command, write_slip: Write, cut: str, word: str
) -> None:
    done = purfling("lapping", write_slip(BOW.replace(cut, "")))
    assert done.code == 1 and word in done.err


def test_weighed_beats_reckoned(purfling: Command, write_slip: Write) -> None:
    slip = write_slip(BOW + "mass_g = 4.0\n")
    found = purfling("lapping", slip, "--json").answer
    assert found["results"]["mass_g"] == 4.0
    assert "lapping.weighed_differs" in [w["code"] for w in found["warnings"]]
    again = purfling("lapping", slip, "--wire", "0.25", "--json").answer
    assert again["results"]["mass_g"] != 4.0


def test_a_weighed_metre(purfling: Command, write_slip: Write) -> None:
    made = purfling("lapping", write_slip(BOW + "g_per_m = 0.5\n"), "--json").answer["results"]
    assert made["mass_g"] == pytest.approx(made["wire_mm"] * 0.5 / 1000, rel=1e-5)


@pytest.mark.parametrize("name", ["tinsel", "silk", "whalebone"])
def test_what_must_be_weighed_is_an_estimate(purfling: Command, name: str) -> None:
    words = ["--wire", "0.4", "--length", "72", "--handle", "8.6", "--material", name, "--json"]
    assert purfling("lapping", *words).answer["status"] == "estimate"


@pytest.mark.parametrize("language", ["en", "de"])
def test_example_and_files_are_repeatable(purfling: Command, tmp_path: Path, language: str) -> None:
    words = ["lapping", EXAMPLES / "lapping.toml", "-o", tmp_path / "out", "--lang", language]
    first_run = purfling(*words)
    assert first_run.code == 0
    first = {p.name: p.read_bytes() for p in (tmp_path / "out").iterdir()}
    assert set(first) == {"handle-strip.svg", "handle-strip.dxf", "lapping-strip.pdf"}
    assert purfling(*words).out == first_run.out
    assert first == {p.name: p.read_bytes() for p in (tmp_path / "out").iterdir()}
