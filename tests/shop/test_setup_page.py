"""The set-up reckoning on a visit's card: the same numbers as the command line, redrawn, kept."""

import json
import re
import tomllib
from pathlib import Path

import pytest
from django.urls import reverse

from purfling.reckonings.setup.compute import reckon
from purfling.shop.asked import Asked
from purfling.shop.domain.card import begin_card, take_reading
from purfling.shop.domain.reckoning import slip_of
from purfling.shop.models import Reckoning, VisitObject
from purfling.slips.reader import check_slip

EXAMPLE = tomllib.loads((Path(__file__).resolve().parents[2] / "examples" / "violin.toml").read_text())
TABLES = ("body", "neck", "board", "nut", "end", "bridge", "saddle", "state")


def card_of_example(book, moment="found", kind="full", only=None):
    """The example's card, typed into the book figure by figure."""
    datums = {
        "end.datum": EXAMPLE["end"]["datum"],
        "end.direction": EXAMPLE["end"]["direction"],
        "nut.datum": EXAMPLE["nut"]["datum"],
        "nut.spacing": EXAMPLE["nut"]["spacing"],
        "bridge.spacing": EXAMPLE["bridge"]["spacing"],
    }
    card = begin_card(
        row=book.rows[0], moment=moment, kind=kind, who=book.owner, datums=datums, strings=EXAMPLE["strings"]
    )
    for table in TABLES:
        for key, value in EXAMPLE[table].items():
            name = f"{table}.{key}"
            if isinstance(value, str) or (only and name not in only):
                continue
            for place, one in enumerate(value if isinstance(value, list) else [value]):
                take_reading(card=card, key=name, place=place, text=f"{one}", who=book.owner)
    return card


def row_of(book):
    return VisitObject.objects.select_related("object").get(pk=book.rows[0].pk)


def test_the_book_reckons_what_the_command_line_reckons(book):
    card_of_example(book)
    own = slip_of(row_of(book))
    assert own.taken == []
    plain = {t: EXAMPLE[t] for t in (*TABLES, "strings")}
    plain["board"] = {k: v for k, v in plain["board"].items() if Asked(f"board.{k}").reading}
    expected = reckon(check_slip(plain)).answer.results
    assert reckon(own.slip()).answer.results == expected


def test_a_number_changed_redraws_and_the_bridge_goes_the_right_way(book, as_owner):
    card_of_example(book)
    address = reverse("reckon_setup_draw", args=[book.rows[0].pk])
    text = as_owner.post(address, {"wished:end.clearance_mm-0": "5.4"}).content.decode()
    assert text.count("<svg") == 2
    cells = re.search(
        r"· G</th><td>([\d.]+)</td><td class=\"wished\">([\d.]+)</td><td class=\"quiet\">(\S+)</td>", text
    )
    # setup-geometry: lowering the clearance at the end by ds lowers the notch by ds L / (Lb cos theta)
    assert float(cells.group(3)) == pytest.approx(-0.5 * 328 / 270 / 0.9894, abs=0.006)


def test_what_is_no_figure_or_no_set_up_is_one_sentence(book, as_owner):
    card_of_example(book)
    address = reverse("reckon_setup_draw", args=[book.rows[0].pk])
    assert "is no figure" in as_owner.post(address, {"wished:end.clearance_mm-0": "x"}).content.decode()
    text = as_owner.post(address, {"found:neck.projection_mm-0": "270"}).content.decode()
    assert 'role="alert"' in text and "<svg" not in text


def test_a_usual_card_takes_the_rest_from_an_earlier_one_and_says_so(book, as_owner):
    from purfling.shop.domain.visit import book_visit, close_visit, receive_visit

    card_of_example(book)
    close_visit(visit=book.visit, who=book.owner)
    visit = receive_visit(
        visit=book_visit(player=book.player, objects=[book.violin], who=book.owner), who=book.owner
    )
    row = visit.rows.select_related("object").get()
    card = begin_card(row=row, moment="found", kind="usual", who=book.owner)
    for place, text in ((0, "0.5"), (3, "0.35")):
        take_reading(card=card, key="nut.clearance_mm", place=place, text=text, who=book.owner)
    own = slip_of(row)
    assert own.tables["nut"]["clearance_mm"] == [0.5, 0.45, 0.4, 0.35]
    assert own.tables["board"]["length_mm"] == 270.0
    page = as_owner.get(reverse("reckon_setup", args=[row.pk])).content.decode()
    assert "from the card of" in page and "in proportion between the outer two" in page


def test_a_kept_reckoning_never_changes_by_itself(book, as_owner):
    card = card_of_example(book)
    as_owner.post(
        reverse("reckon_setup_keep", args=[book.rows[0].pk]),
        {"wished:end.clearance_mm-0": "5.4", "word": "for the new set"},
    )
    kept = Reckoning.objects.get()
    before = json.dumps(kept.answer, sort_keys=True)
    assert kept.inputs["wish"]["end"]["clearance_mm"] == [5.4, 5.2, 4.6, 3.9]
    assert kept.answer["version"] and kept.answer["sources"]
    take_reading(card=card, key="neck.projection_mm", text="26", who=book.owner)
    kept.refresh_from_db()
    assert json.dumps(kept.answer, sort_keys=True) == before
    assert "for the new set" in as_owner.get(reverse("reckoning", args=[kept.pk])).content.decode()
