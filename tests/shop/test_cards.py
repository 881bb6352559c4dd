"""Cards: what is typed is stored, with datum and gauge error; only nonsense is refused; the strings wait."""

import json
import uuid

import pytest
from django.urls import reverse
from shop.conftest import moment

from purfling.craft.quantities import readings
from purfling.refusals import Refusal
from purfling.shop.asked import asked_of, at_pitch_of
from purfling.shop.domain import clock
from purfling.shop.domain.card import (
    begin_card,
    fix_card,
    let_tension_off,
    strike_reading,
    take_reading,
    wish_as_last_time,
)
from purfling.shop.domain.shop import change_shop, the_shop
from purfling.shop.domain.visit import book_visit, close_visit, receive_visit
from purfling.shop.models import Change, Reading


@pytest.fixture
def card(book):
    """The violin's card as found."""
    return begin_card(row=book.rows[0], moment="found", kind="usual", who=book.owner)


def send(client, card, **body):
    address = reverse("card_reading", args=[card.pk])
    return client.post(address, json.dumps({"place": 0, **body}), content_type="application/json")


def test_the_cards_ask_what_the_table_of_readings_says(book):
    """bench-practice of the trade: rehair 3 to 5 figures, usual service 10 to 12, full about 28."""
    usual, full = asked_of("usual", book.violin), asked_of("full", book.violin)
    rehair = asked_of("rehair", book.bow)
    assert 3 <= len(rehair) <= 5
    assert 10 <= len(usual) <= 12
    assert 26 <= len(full) <= 34
    for kind, asked in (("usual", usual), ("full", full), ("rehair", rehair)):
        assert all(kind in readings()[a.key].cards for a in asked)


def test_a_figure_is_stored_when_it_is_typed_with_the_id_made_at_the_bench(card, as_owner):
    made = str(uuid.uuid4())
    assert send(as_owner, card, id=made, key="end.clearance_mm", text="5.5").status_code == 200
    stored = Reading.objects.get(pk=made)
    assert (stored.value, stored.error, stored.card_id) == (5.5, 0.1, card.pk)
    send(as_owner, card, id=made, key="end.clearance_mm", text="5,6")
    stored.refresh_from_db()
    assert stored.value == 5.6
    told = Change.objects.filter(record=made).order_by("version")
    assert [c.before.get("value") for c in told] == [None, 5.5]


def test_the_shops_own_gauge_error_is_kept_with_the_figure(card, book):
    change_shop(shop=the_shop(), who=book.owner, gauges={"end.clearance_mm": 0.07})
    taken = take_reading(card=card, key="end.clearance_mm", text="5.5", who=book.owner)
    assert taken.reading.error == 0.07


def test_outside_the_usual_and_a_jump_are_told_and_stored(card, as_owner):
    answer = send(as_owner, card, key="end.clearance_mm", text="6.8").json()
    assert "outside the usual 5 to 6 mm" in answer["notes"][0]
    assert Reading.objects.get(card=card).value == 6.8


def test_nonsense_is_one_sentence_and_nothing_is_stored(card, as_owner):
    for text in ("55", "abc", "1.2.3", "1,234,5", "", "5/0 in"):
        answer = send(as_owner, card, key="end.clearance_mm", text=text)
        assert answer.status_code == (422 if text else 200), text
    assert send(as_owner, card, key="nonsense", text="1").status_code == 422
    assert not Reading.objects.filter(card=card).exists()


def test_inches_are_kept_as_entered_beside_millimetres(card, book):
    taken = take_reading(card=card, key="end.clearance_mm", text="7/32 in", who=book.owner)
    assert taken.reading.entered == "7/32 in"
    assert taken.reading.value == pytest.approx(7 / 32 * 25.4, rel=1e-12)  # inch of 1959: 25.4 mm exactly


def test_a_struck_figure_leaves_the_card_and_stays_in_the_history(card, book):
    made = take_reading(card=card, key="end.clearance_mm", text="5.5", who=book.owner).reading
    strike_reading(card=card, key="end.clearance_mm", who=book.owner)
    assert not Reading.objects.filter(card=card).exists()
    assert Change.objects.filter(record=made.pk).last().before["value"] == 5.5


def test_datum_and_tension_stay_once_a_figure_is_there(card, book):
    fix_card(card=card, who=book.owner, datums={"end.direction": "wedge"})
    card.refresh_from_db()
    assert card.datums["end.direction"] == "wedge"
    take_reading(card=card, key="end.clearance_mm", text="5.5", who=book.owner)
    with pytest.raises(Refusal, match="card_is_fixed"):
        fix_card(card=card, who=book.owner, datums={"end.direction": "upright"})
    with pytest.raises(Refusal, match="card_is_fixed"):
        fix_card(card=card, who=book.owner, tension="slack")


def test_an_interrupted_card_resumes_at_the_figure_that_was_being_typed(card, as_owner):
    body = json.dumps({"key": "neck.projection_mm", "place": 0, "text": "27"})
    address = reverse("card_typing", args=[card.pk])
    assert as_owner.post(address, body, content_type="application/json").status_code == 204
    page = as_owner.get(reverse("card_pad", args=[card.pk])).content.decode()
    assert '"unfinished": {"key": "neck.projection_mm", "text": "27", "place": 0}' in page or (
        '"key": "neck.projection_mm", "place": 0, "text": "27"' in page
    )
    send(as_owner, card, key="neck.projection_mm", text="27")
    card.refresh_from_db()
    assert card.unfinished == {}


def test_strings_stay_on_until_the_readings_at_pitch_are_in(card, book):
    row = book.rows[0]
    with pytest.raises(Refusal, match="strings_held_back") as told:
        let_tension_off(row=row, who=book.owner)
    assert "post behind the foot" in told.value.params["names"]
    texts = {
        "post.behind_mm": "3",
        "bridge.lean_deg": "0",
        "neck.string_length_mm": "328",
        "neck.projection_mm": "27",
    }
    for asked in at_pitch_of(book.violin):
        take_reading(
            card=card, key=asked.key, place=asked.place, text=texts.get(asked.key, "4.5"), who=book.owner
        )
    assert let_tension_off(row=row, who=book.owner).strings_off_at is not None


def test_strings_off_is_passed_with_a_word_that_stays(book):
    row = let_tension_off(row=book.rows[0], who=book.owner, word="post had fallen already")
    assert row.strings_off_word == "post had fallen already"
    assert Change.objects.filter(record=row.pk).last().because == "post had fallen already"


def next_visit(book):
    """A year later the violin is here again."""
    close_visit(visit=book.visit, who=book.owner)
    visit = book_visit(player=book.player, objects=[book.violin], who=book.owner)
    return receive_visit(visit=visit, who=book.owner).rows.select_related("object").get()


def test_as_last_time_copies_what_was_left_and_the_previous_figure_stands_beside(book):
    with clock.held(moment("2025-05-05T10:00")):
        left = begin_card(row=book.rows[0], moment="left", kind="usual", who=book.owner)
        for place, text in enumerate(("5.4", "4.8", "4.1", "3.4")):
            take_reading(card=left, key="end.clearance_mm", place=place, text=text, who=book.owner)
    row = next_visit(book)
    wished = wish_as_last_time(row=row, who=book.owner)
    assert [r.value for r in wished.readings.order_by("place")] == [5.4, 4.8, 4.1, 3.4]
    found = begin_card(row=row, moment="found", kind="usual", who=book.owner)
    notes = take_reading(card=found, key="end.clearance_mm", text="5.9", who=book.owner).notes
    assert [n.code for n in notes] == ["book.jump"]  # 0.5 apart, three standard deviations of 0.14 are 0.42
    notes = take_reading(card=found, key="end.clearance_mm", place=1, text="5.1", who=book.owner).notes
    assert notes == ()


def test_figures_of_another_datum_are_not_the_previous_figure(book, as_owner):
    left = begin_card(
        row=book.rows[0], moment="left", kind="usual", who=book.owner, datums={"end.direction": "wedge"}
    )
    take_reading(card=left, key="end.clearance_mm", text="5.2", who=book.owner)
    found = begin_card(
        row=next_visit(book),
        moment="found",
        kind="usual",
        who=book.owner,
        datums={"end.direction": "upright"},
    )
    page = as_owner.get(reverse("card_pad", args=[found.pk])).content.decode()
    assert '"before": "5.2"' not in page
    fix_card(card=found, who=book.owner, datums={"end.direction": "wedge"})
    assert '"before": "5.2"' in as_owner.get(reverse("card_pad", args=[found.pk])).content.decode()


def test_found_and_left_stand_side_by_side_with_the_signed_change(book, as_owner):
    for name, text in (("found", "5.9"), ("left", "5.4")):
        card = begin_card(row=book.rows[0], moment=name, kind="usual", who=book.owner)
        take_reading(card=card, key="end.clearance_mm", text=text, who=book.owner)
    page = as_owner.get(reverse("cards", args=[book.rows[0].pk])).content.decode()
    assert "5.9" in page and "5.4" in page and "-0.5" in page
