"""Every refusal: one sentence, exit 1, nothing on standard output, nothing written."""

from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from purfling.craft.refusals import Refusal
from purfling.slips.reader import check_slip, decode, parse_toml
from purfling.words import refusal_text
from tests.conftest import EXAMPLES, Run

VIOLIN = (EXAMPLES / "violin.toml").read_text(encoding="utf-8")

BAD = [
    ("family", 'family = "violin"', "", "body.family"),
    ("string length", "string_length_mm = 328.0", "", "neck.string_length_mm"),
    ("projection", "projection_mm = 27.0\n", "\n", "neck.projection_mm"),
    ("board length", "\nlength_mm = 270.0", "", "board.length_mm"),
    ("end clearance", "clearance_mm = [5.9, 5.2, 4.6, 3.9]", "", "end.clearance_mm"),
    ("nut clearance", "clearance_mm = [0.45, 0.40, 0.35, 0.30]", "", "nut.clearance_mm"),
    ("end datum", 'datum = "underside"\ndirection', "direction", "end.datum"),
    ("direction", 'direction = "upright"', "", "end.direction"),
    ("nut datum", 'datum = "underside"\n\n[end]', "\n[end]", "nut.datum"),
    ("tension state", 'tension = "strung"', "", "state.tension"),
    ("board longer than string", "\nlength_mm = 270.0", "\nlength_mm = 330.0", "shorter than the string"),
    ("outside the arc", "spacing_mm = 33.5", "spacing_mm = 100.0", "arc"),
    ("hard range", "projection_mm = 27.0", "projection_mm = 270.0", "84 mm"),
    ("hard range below", "projection_mm = 27.0", "projection_mm = 2.7", "7.8 mm"),
    ("not a number", "projection_mm = 27.0", 'projection_mm = "27"', "a number is needed"),
    ("a truth is no number", "projection_mm = 27.0", "projection_mm = true", "a number is needed"),
    ("nan", "projection_mm = 27.0", "projection_mm = nan", "finite"),
    ("infinity", "projection_mm = 27.0", "projection_mm = inf", "finite"),
    ("nan in a list", "[5.9, 5.2, 4.6, 3.9]", "[5.9, nan, 4.6, 3.9]", "finite"),
    ("list too short", "[5.9, 5.2, 4.6, 3.9]", "[5.9, 5.2, 4.6]", "3 entries; 4"),
    ("list too long", "[0.45, 0.40, 0.35, 0.30]", "[0.45, 0.40, 0.35, 0.30, 0.3]", "5 entries; 4"),
    ("a number for a list", "[5.9, 5.2, 4.6, 3.9]", "5.9", "square brackets"),
    ("unknown table", "[saddle]", "[sadle]", "[saddle]"),
    ("unknown key", "overstand_mm", "overstnad_mm", "overstand_mm"),
    ("unknown wish", "[wish.end]", "[wish.ende]", "end"),
    ("unknown wish key", "[wish.end]", "[wish.end]\nclearence_mm = [1.0]", "clearance_mm"),
    ("bad word", 'direction = "upright"', 'direction = "slanted"', "upright, wedge"),
    ("mixed states", "[wish.end]", '[wish.state]\ntension = "slack"\n[wish.end]', "one state"),
    ("root angle", "overstand_mm = 6.25", "overstand_mm = 6.25\nboard_slope_deg = 87.0", "angle of the root"),
    ("tension twice", "tension_n = 45.0", "tension_n = 45.0\ndensity_g_per_m = 2.6", "given twice"),
    ("later version", "version = 1", "version = 2", "slip.version"),
    ("centre datum in the board", 'datum = "underside"\n\n[end]', 'datum = "centre"\n\n[end]', ""),
]


@pytest.mark.parametrize(("case", "old", "new", "named"), BAD, ids=[b[0] for b in BAD])
def test_bad_slip_gets_one_sentence(
    case: str,
    old: str,
    new: str,
    named: str,
    purfling: Callable[..., Run],
    write_slip: Callable[[str], Path],
    tmp_path: Path,
) -> None:
    assert old in VIOLIN
    text = VIOLIN.replace(old, new, 1)
    if case == "centre datum in the board":
        text = text.replace("[0.45, 0.40, 0.35, 0.30]", "[0.30, 0.40, 0.35, 0.30]")
    out = tmp_path / "out"
    run = purfling("service", write_slip(text), "-o", out)
    assert run.code == 1
    assert run.out == ""
    assert named in run.err
    assert len(run.err.strip()) <= 300
    assert run.err.count("\n") == 1
    assert not out.exists()


def test_broken_toml_names_line_and_column(
    purfling: Callable[..., Run], write_slip: Callable[[str], Path]
) -> None:
    run = purfling("setup", write_slip("[body]\nfamily = violin\n"))
    assert run.code == 1
    assert "line 2, column 10" in run.err


def test_wrong_encoding_is_refused_and_a_byte_order_mark_taken(
    purfling: Callable[..., Run], tmp_path: Path
) -> None:
    latin = tmp_path / "latin.toml"
    latin.write_bytes("[body]\n# Größe\n".encode("latin-1"))
    run = purfling("setup", latin)
    assert (run.code, run.out) == (1, "")
    assert "line 2" in run.err and "UTF-8" in run.err
    utf16 = tmp_path / "utf16.toml"
    utf16.write_bytes(VIOLIN.encode("utf-16"))
    assert purfling("setup", utf16).code == 1
    bom = tmp_path / "bom.toml"
    bom.write_bytes(b"\xef\xbb\xbf" + VIOLIN.encode())
    assert purfling("setup", bom).code == 0


def test_a_ten_megabyte_file_is_refused_unread(purfling: Callable[..., Run], tmp_path: Path) -> None:
    large = tmp_path / "large.toml"
    large.write_bytes(b"#" * 10_000_000)
    run = purfling("setup", large)
    assert run.code == 1
    assert "1000000" in run.err


def test_missing_file_and_missing_slip_exit_1(purfling: Callable[..., Run], tmp_path: Path) -> None:
    assert purfling("setup", tmp_path / "none.toml").code == 1
    assert purfling("setup").code == 1
    assert purfling("setup", tmp_path).code == 1


def test_unknown_command_and_option_exit_2_and_a_bad_value_1(purfling: Callable[..., Run]) -> None:
    slip = EXAMPLES / "violin.toml"
    assert purfling("stup", slip).code == 2
    assert purfling("setup", slip, "--frobnicate").code == 2
    assert purfling("service", slip, "--print-scale", "wide").code == 1
    assert purfling("service", slip, "--print-scale", "nan").code == 1
    assert purfling("service", slip, "--print-scale", "3").code == 1
    assert purfling("service", slip, "--print-scale").code == 1
    assert purfling("setup", slip, "--lang", "xx").code == 1


def test_another_commands_tables_are_passed_over(
    purfling: Callable[..., Run], write_slip: Callable[[str], Path]
) -> None:
    plain = purfling("setup", EXAMPLES / "violin.toml", "--json").answer
    more = write_slip(VIOLIN + "\n[post]\nbehind_mm = 3.0\n")
    assert purfling("setup", more, "--json").answer["results"] == plain["results"]


def test_a_refusal_in_german(purfling: Callable[..., Run], write_slip: Callable[[str], Path]) -> None:
    run = purfling("setup", write_slip("[body]\nfamily = 'violin'\n"), "--lang", "de")
    assert run.code == 1
    assert "fehlt" in run.err


def test_out_that_cannot_be_written_leaves_nothing(purfling: Callable[..., Run], tmp_path: Path) -> None:
    blocked = tmp_path / "file"
    blocked.write_text("a file, not a folder")
    run = purfling("service", EXAMPLES / "violin.toml", "-o", blocked / "pages")
    assert (run.code, run.out) == (1, "")
    assert "cannot be written" in run.err
    assert list(tmp_path.iterdir()) == [blocked]


values = st.recursive(
    st.none() | st.booleans() | st.integers(-(10**9), 10**9) | st.floats() | st.text(max_size=8),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=6), inner, max_size=4),
    max_leaves=12,
)
names = st.sampled_from(
    ["body", "neck", "board", "nut", "end", "strings", "wish", "state", "slip", "work", "shop"]
)


@given(st.dictionaries(names | st.text(max_size=6), values, max_size=6))
def test_any_tables_are_taken_or_refused_with_a_sentence(tables: dict[str, object]) -> None:
    from purfling.reckonings.service.compute import reckon_service

    try:
        reckon_service(check_slip(tables))
    except Refusal as refusal:
        for language in ("en", "de"):
            assert 0 < len(refusal_text(refusal, language)) <= 300


@given(st.binary(max_size=200))
def test_any_bytes_are_parsed_or_refused(data: bytes) -> None:
    try:
        parse_toml(decode(data, "slip"), "slip")
    except Refusal as refusal:
        assert refusal_text(refusal)
