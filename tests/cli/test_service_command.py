"""The service as a command: results, ready hour, defaults, class, arrival."""

import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.conftest import EXAMPLES, Run

VIOLIN = (EXAMPLES / "violin.toml").read_text(encoding="utf-8")
NAMES = {"status", "warnings", "inputs", "results", "defaults", "sources", "version"}


@pytest.mark.parametrize("family", ["violin", "viola", "cello"])
def test_examples_are_ok_and_have_no_warning(family: str, purfling: Callable[..., Run]) -> None:
    answer = purfling("service", EXAMPLES / f"{family}.toml", "--json").answer
    assert set(answer) == NAMES
    assert answer["status"] == "ok"
    assert answer["warnings"] == []
    assert answer["results"]["service"]["late_minutes"] == 0


def test_found_and_wished_are_those_of_setup(purfling: Callable[..., Run]) -> None:
    slip = EXAMPLES / "violin.toml"
    service = purfling("service", slip, "--json").answer["results"]
    assert service["found"] == purfling("setup", slip, "--json").answer["results"]
    assert service["wished"] == purfling("setup", slip, "--wished", "--json").answer["results"]
    assert service["change"]["centre_mm"] == pytest.approx(-0.6, abs=0.05)
    assert "DOWN 0.6 mm" in service["change"]["sentence"]
    assert "clearance goes down 0.5" in service["change"]["sentence"]


def test_what_may_be_left_out_is_listed_and_what_may_not_is_refused(
    purfling: Callable[..., Run], write_slip: Callable[[str], Path]
) -> None:
    slip = write_slip(
        '[body]\nfamily = "violin"\n[neck]\nstring_length_mm = 328\nprojection_mm = 27\n'
        "[board]\nlength_mm = 270\n"
        '[nut]\nclearance_mm = [0.40, 0.35, 0.30, 0.25]\ndatum = "underside"\n'
        '[end]\nclearance_mm = [5.5, 4.9, 4.2, 3.5]\ndatum = "underside"\ndirection = "upright"\n'
        '[state]\ntension = "strung"\n'
    )
    answer = purfling("setup", slip, "--json").answer
    assert answer["status"] == "estimate"
    fields = {d["field"] for d in answer["defaults"]}
    for needed in (
        "body.arch_mm",
        "body.stop_mm",
        "neck.overstand_mm",
        "board.radius_nut_mm",
        "nut.spacing_mm",
        "bridge.spacing_mm",
        "bridge.foot_span_mm",
        "saddle.height_mm",
        "board.scoop_low_mm",
        "strings G: tension_n",
        "strings E: diameter_mm",
    ):
        assert needed in fields
    assert all(d["source"] for d in answer["defaults"])
    nut = [0.4, 0.25]  # common practice, no source: 0.4 under the lowest, 0.25 under the highest
    assert not [w for w in answer["warnings"] if "nut" in w["text"]], nut


def test_outside_the_usual_range_is_a_warning(
    purfling: Callable[..., Run], write_slip: Callable[[str], Path]
) -> None:
    slip = write_slip(VIOLIN.replace("projection_mm = 27.0", "projection_mm = 29.0"))
    answer = purfling("setup", slip, "--json").answer
    assert [w["code"] for w in answer["warnings"]] == ["setup.outside_usual"]
    assert "26 to 28 mm" in answer["warnings"][0]["text"]


def test_given_slope_that_disagrees_is_named_with_the_worked_out_one(
    purfling: Callable[..., Run], write_slip: Callable[[str], Path]
) -> None:
    near = write_slip(VIOLIN.replace("overstand_mm = 6.25", "overstand_mm = 6.25\nboard_slope_deg = 8.6"))
    assert purfling("setup", near, "--json").answer["warnings"] == []
    far = write_slip(VIOLIN.replace("overstand_mm = 6.25", "overstand_mm = 6.25\nboard_slope_deg = 9.0"))
    answer = purfling("setup", far, "--json").answer
    assert "9" in answer["warnings"][0]["text"] and "8.28" in answer["warnings"][0]["text"]
    assert answer["results"]["board_slope_deg"] == 9.0


def test_density_and_pitch_give_the_tension(
    purfling: Callable[..., Run], write_slip: Callable[[str], Path]
) -> None:
    slip = write_slip(VIOLIN.replace("tension_n = 45.0", "density_g_per_m = 2.79"))
    strings = purfling("setup", slip, "--json").answer["results"]["strings"]
    assert strings[0]["tension_n"] == pytest.approx(2.79e-3 * (2 * 0.328 * 196.0) ** 2, rel=1e-5)


def test_late_work_says_so_and_what_the_evenings_would_do(
    purfling: Callable[..., Run], write_slip: Callable[[str], Path]
) -> None:
    slip = write_slip(VIOLIN.replace("2026-12-03T16:30", "2026-12-02T11:00"))
    answer = purfling("service", slip, "--json").answer
    assert [w["code"] for w in answer["warnings"]] == ["service.late"]
    assert answer["results"]["service"]["late_minutes"] == 180


def test_without_arrival_the_last_open_day_before_the_promise_is_assumed(
    purfling: Callable[..., Run], write_slip: Callable[[str], Path]
) -> None:
    slip = write_slip(VIOLIN.replace('[visit]\narrives = "2026-12-01T08:30"\n', ""))
    answer = purfling("service", slip, "--json").answer
    assert answer["results"]["service"]["arrives"] == "2026-12-02T08:30"
    assert "service.arrival_assumed" in [w["code"] for w in answer["warnings"]]
    assert "visit.arrives" in [d["field"] for d in answer["defaults"]]


def test_polish_on_a_conserve_class_instrument_is_warned_of(
    purfling: Callable[..., Run], write_slip: Callable[[str], Path]
) -> None:
    slip = write_slip(VIOLIN.replace('class = "working"', 'class = "conserve"'))
    answer = purfling("service", slip, "--json").answer
    assert [w["code"] for w in answer["warnings"]] == ["service.breaks_class"]


def test_a_wait_needs_something_to_wait_for(
    purfling: Callable[..., Run], write_slip: Callable[[str], Path]
) -> None:
    slip = write_slip(VIOLIN.replace('id = "hair-out"', 'id = "hair-out"\nwait_min = 60'))
    run = purfling("service", slip)
    assert run.code == 1 and "nothing to wait for" in run.err


def test_plain_text_is_for_eyes(purfling: Callable[..., Run]) -> None:
    run = purfling("setup", EXAMPLES / "violin.toml")
    assert run.out.splitlines()[0].startswith("string")
    assert "board slope 8.28 deg" in run.out
    german = purfling("setup", EXAMPLES / "violin.toml", "--lang", "de")
    assert "Griffbrettsteigung 8,28 Grad" in german.out


def test_setup_imports_neither_scipy_nor_the_makers_of_papers() -> None:
    code = (
        "import sys; from purfling.cli.main import main; main(['setup', sys.argv[1], '--json']);"
        "heavy = {'scipy', 'pint', 'ezdxf', 'typst', 'django', 'ortools', 'numba'} & set(sys.modules);"
        "sys.exit(','.join(sorted(heavy)) or 0)"
    )
    done = subprocess.run(
        [sys.executable, "-c", code, str(EXAMPLES / "violin.toml")],
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr


@pytest.mark.parametrize(
    ("wish", "said"),
    [
        ("clearance_mm = [5.4, 5.2, 4.6, 3.9]", "-0.6 mm under G and 0.0 mm under E"),
        ("clearance_mm = [6.4, 5.2, 4.6, 3.4]", "+0.6 mm under G and -0.6 mm under E"),
        ("clearance_mm = [5.9, 5.2, 4.6, 3.9]", "stays as it is"),
    ],
)
def test_the_sentence_tells_both_sides_where_they_differ(
    wish: str, said: str, purfling: Callable[..., Run], write_slip: Callable[[str], Path]
) -> None:
    text = VIOLIN.replace("clearance_mm = [5.4, 4.7, 4.1, 3.4]", wish)
    text = text.replace("[wish.nut]\nclearance_mm = [0.40, 0.35, 0.30, 0.25]\n", "")
    change = purfling("service", write_slip(text), "--json").answer["results"]["change"]
    if "stays" in said:
        assert "Nothing is wished" in change["sentence"]
    else:
        assert said in change["sentence"]


@pytest.mark.parametrize(
    ("old", "new", "named"),
    [
        ("humidity_percent = 48", "humidity_percent = 480", "state.humidity_percent"),
        ("edge_bass_mm = 4.6", 'edge_bass_mm = "thick"', "board.edge_bass_mm"),
        ('name = "D"', 'name = "G"', "named twice"),
        ("pitch_hz = 440.0", "pitch_hz = 250.0", "lowest to the highest"),
        ("[wish.nut]", '[wish.body]\nfamily = "cello"\n[wish.nut]', "another instrument"),
        ("[wish.nut]", '[wish.nut]\ndatum = "centre"\n#', "clearances"),
        ("projection_mm = 27.0", "projection_mm = " + "9" * 400, "finite"),
    ],
)
def test_every_given_value_is_looked_at(
    old: str, new: str, named: str, purfling: Callable[..., Run], write_slip: Callable[[str], Path]
) -> None:
    text = VIOLIN.replace(old, new, 1)
    if new.endswith("#"):
        text = text.replace("clearance_mm = [0.40, 0.35, 0.30, 0.25]\n", "")
    run = purfling("service", write_slip(text))
    assert run.code == 1 and named in run.err, run.err


def test_a_moment_written_without_quotes_is_taken(
    purfling: Callable[..., Run], write_slip: Callable[[str], Path]
) -> None:
    slip = write_slip(VIOLIN.replace('at = "2026-12-03T16:30"', "at = 2026-12-03T16:30:00"))
    assert purfling("service", slip, "--json").answer["inputs"]["promise"] == {"at": "2026-12-03T16:30:00"}


def test_a_folder_in_the_way_of_a_page_leaves_the_old_pages_alone(
    purfling: Callable[..., Run], tmp_path: Path
) -> None:
    (tmp_path / "service.json").mkdir()
    old = tmp_path / "setup-card.pdf"
    old.write_bytes(b"old")
    assert purfling("service", EXAMPLES / "violin.toml", "-o", tmp_path).code == 1
    assert old.read_bytes() == b"old"
    assert sorted(p.name for p in tmp_path.iterdir()) == ["service.json", "setup-card.pdf"]


def test_cautions_go_by_whole_words() -> None:
    from purfling.craft.cautions import cautions_for

    assert "cautions.lamp" not in cautions_for(["arrival card, photographs", "clamps off"])
    assert "cautions.belly" not in cautions_for(["five minutes of talk"])
    assert "cautions.lamp" in cautions_for(["retouch under the UV lamp"])
