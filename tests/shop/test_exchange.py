"""A visit as a slip and back: the same numbers both ways, nothing of a person but the first name."""

import os
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest
import tomli_w
from shop.test_setup_page import card_of_example

from purfling.refusals import Refusal
from purfling.shop.domain.card import begin_card, take_reading
from purfling.shop.domain.exchange import export_visit, import_visit
from purfling.shop.domain.object import add_object
from purfling.shop.domain.visit import add_object_to_visit, close_visit
from purfling.shop.models import Reading, Visit
from purfling.slips.reader import check_slip

PROGRAM = Path(sys.executable).parent / "purfling"


def figures(visit):
    """Every figure of a visit by object, moment, key and string."""
    rows = Reading.objects.filter(card__visit_object__visit=visit).values_list(
        "object__kind", "card__moment", "key", "place", "value", "entered"
    )
    return sorted(rows)


@pytest.fixture
def whole(book):
    """Three cards of the violin (one with inches, one of some strings only) and one of the bow."""
    card_of_example(book)
    wished = begin_card(row=book.rows[0], moment="wished", kind="usual", who=book.owner)
    for place, text in enumerate(("5.4", "4.7", "4.1", "3.4")):
        take_reading(card=wished, key="end.clearance_mm", place=place, text=text, who=book.owner)
    left = begin_card(row=book.rows[0], moment="left", kind="usual", who=book.owner)
    take_reading(card=left, key="nut.clearance_mm", place=0, text="0.4", who=book.owner)
    take_reading(card=left, key="neck.projection_mm", text="1 1/16 in", who=book.owner)
    take_reading(card=left, key="bridge.lean_deg", text="-0.5", who=book.owner)
    bow = begin_card(row=book.rows[1], moment="found", kind="rehair", who=book.owner)
    typed = {"bow.mass_g": "60.4", "state.humidity_percent": "47", "hair.eye_place_mm": "4.5"}
    for key, text in typed.items():
        take_reading(card=bow, key=key, text=text, who=book.owner)
    return book


def test_the_same_numbers_come_back(whole):
    text = tomli_w.dumps(export_visit(visit=whole.visit))
    close_visit(visit=whole.visit, who=whole.owner)
    back = import_visit(slip=check_slip(tomllib.loads(text)), who=whole.owner)
    assert figures(back) == figures(whole.visit)
    assert len(figures(back)) > 40
    cards = [c for r in back.rows.all() for c in r.cards.all() if not r.object.is_bow]
    assert {c.datums["end.direction"] for c in cards} == {"upright"}
    again = export_visit(visit=back)
    first = tomllib.loads(text)
    for tables in (again, first):
        tables["visit"].pop("number")
        tables["visit"].pop("handed_over", None)
    assert again == first


def test_the_slip_carries_a_first_name_and_nothing_else_of_the_person(whole):
    text = tomli_w.dumps(export_visit(visit=whole.visit))
    assert "Merle" in text
    for word in ("Aschenbrand", "Secret", "example.org", "98765", "4321", "0000 12"):
        assert word not in text


def test_other_commands_take_the_slip(whole, tmp_path, purfling):
    path = tmp_path / "visit.toml"
    path.write_text(tomli_w.dumps(export_visit(visit=whole.visit)))
    answer = purfling("setup", path, "--json").answer
    assert answer["results"]["strings"][0]["name"] == "G"


def test_a_plain_slip_of_readings_comes_in_as_a_card(owner):
    example = Path(__file__).resolve().parents[2] / "examples" / "violin.toml"
    visit = import_visit(slip=check_slip(tomllib.loads(example.read_text())), who=owner)
    found = visit.rows.get().cards.get(moment="found")
    assert found.readings.get(key="end.clearance_mm", place=0).value == 5.9
    assert visit.rows.get().cards.get(moment="wished").readings.count() == 8


def test_a_slip_that_is_refused_leaves_nothing(owner):
    tables = {"body": {"family": "violin"}, "state": {"tension": "strung"}, "neck": {"projection_mm": 500.0}}
    with pytest.raises(Refusal, match="above_hard"):
        import_visit(slip=check_slip(tables), who=owner)
    assert Visit.objects.count() == 0


def test_a_visit_of_two_violins_is_no_slip(whole):
    second = add_object(who=whole.owner, owner=whole.player, family="violin")
    add_object_to_visit(visit=whole.visit, thing=second, who=whole.owner, tag="9", whereabouts="rack")
    with pytest.raises(Refusal, match="visit_of_many"):
        export_visit(visit=whole.visit)


def run(*words, **environment):
    done = subprocess.run(
        [str(PROGRAM), *words],
        capture_output=True,
        text=True,
        check=False,
        env={k: v for k, v in os.environ.items() if not k.startswith(("PURFLING", "DJANGO"))} | environment,
    )
    return done.returncode, done.stdout, done.stderr


def test_the_command_refuses_in_one_sentence_and_prints_nothing(tmp_path):
    for words in (
        ("visit",),
        ("visit", "burn", "1"),
        ("visit", "export"),
        ("visit", "export", "x"),
        ("visit", "export", "1", "--book", str(tmp_path / "none")),
        ("visit", "import", str(tmp_path / "none.toml")),
        ("open", "--port", "99999"),
        ("open", "--host", "0.0.0.0"),
    ):
        code, out, err = run(*words)
        assert (code, out, err.count("\n")) == (1, "", 1), words
        assert len(err) <= 301
    assert not (tmp_path / "none").exists()
    assert run("visit", "--colour")[0] == 2
