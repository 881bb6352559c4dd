"""Every reckoning opens on this visit's numbers, and is kept with them."""

import pytest
from django.urls import reverse

from purfling.shop.domain.card import begin_card, take_reading
from purfling.shop.domain.tries import add_try
from purfling.shop.models import Reckoning
from purfling.shop.opened import OPENED, opened_for

FULL = {
    ("neck.string_length_mm", 0): "328",
    ("neck.projection_mm", 0): "27",
    ("neck.overstand_mm", 0): "6",
    ("body.arch_mm", 0): "15.5",
    ("body.stop_mm", 0): "195",
    ("board.length_mm", 0): "270",
    ("board.radius_nut_mm", 0): "42",
    ("board.radius_end_mm", 0): "42",
    ("board.width_nut_mm", 0): "24",
    ("board.width_end_mm", 0): "42.5",
    ("nut.spacing_mm", 0): "16.5",
    ("bridge.spacing_mm", 0): "34",
    **{("end.clearance_mm", n): str(v) for n, v in enumerate((5.5, 5.0, 4.3, 3.6))},
    **{("nut.clearance_mm", n): str(v) for n, v in enumerate((0.5, 0.45, 0.4, 0.35))},
    ("post.behind_mm", 0): "3",
    ("post.inside_mm", 0): "1.5",
    **{("pegs.diameter_mm", n): str(v) for n, v in enumerate((7.6, 7.7, 7.6, 7.5))},
}
BOW = {("bow.mass_g", 0): "60.5", ("bow.balance_mm", 0): "255"}


@pytest.fixture
def rows(book):
    """(violin's row, bow's row), each with a full card as found."""
    violin, bow = sorted(book.rows, key=lambda r: r.object.is_bow)
    for row, figures in ((violin, FULL), (bow, BOW)):
        card = begin_card(row=row, moment="found", kind="full", who=book.owner)
        for (key, place), text in figures.items():
            take_reading(card=card, key=key, place=place, text=text, who=book.owner)
    add_try(row=violin, behind_mm=2.5, inside_mm=1.5, who=book.owner, maker_word="freer")
    return violin, bow


def page(client, row, name, **post):
    address = reverse("opened", args=[row.pk])
    return client.post(address, {"name": name, **post}) if post else client.get(address, {"name": name})


def test_every_line_of_the_registry_opens_and_says_what_is_missing_or_the_answer(rows, as_owner):
    """None may break: a page of figures, or one sentence that names what the card lacks."""
    for row in rows:
        kind = row.object.kind
        assert opened_for(kind)
        for one in opened_for(kind):
            answer = page(as_owner, row, one.name)
            if one.page:
                assert answer.url == reverse(one.page, args=[row.pk])
                continue
            text = answer.content.decode()
            assert answer.status_code == 200, one.name
            assert any(s in text for s in ('class="reckoned"', 'role="alert"', 'role="status"')), one.name


@pytest.mark.parametrize("name", ["change", "margins", "nut", "strings", "post", "pegs"])
def test_a_full_card_is_enough(rows, as_owner, name):
    if not OPENED[name].there:
        pytest.skip("not in this program yet")
    text = page(as_owner, rows[0], name).content.decode()
    assert 'role="alert"' not in text, text.split('role="alert"')[1][:300]


def test_the_change_agrees_with_the_worked_figure_of_the_sheet(rows, as_owner):
    """0.4 mm off a violin's board everywhere, nut recut: the bridge goes down by 0.40 (worked in the
    trade)."""
    more = {"ask.board_at_nut_mm": "0,4", "ask.board_at_end_mm": "0.4", "do": "keep", "word": "two passes"}
    answer = page(as_owner, rows[0], "change", **more)
    kept = Reckoning.objects.get(name="change")
    assert answer.url == reverse("reckoning", args=[kept.pk])
    assert kept.inputs["asked_besides"] == {"board_at_nut_mm": 0.4, "board_at_end_mm": 0.4}
    assert kept.answer["results"]["bridge_mm"] == pytest.approx([-0.40] * 4, abs=0.01)
    assert kept.answer["results"]["nut_mm"] == pytest.approx(-0.4)
    shown = as_owner.get(answer.url).content.decode()
    assert kept.answer["shown"].splitlines()[0] in shown.replace("&#x27;", "'").replace("&quot;", '"')


def test_a_box_changes_a_number_for_this_once_and_not_the_card(rows, as_owner):
    before = page(as_owner, rows[0], "strings").content.decode()
    after = page(as_owner, rows[0], "strings", **{"neck.string_length_mm": "335", "do": "reckon"})
    assert after.content.decode() != before and 'value="335"' in after.content.decode()
    assert rows[0].cards.get(moment="found").readings.get(key="neck.string_length_mm").value == 328


def test_what_is_no_number_is_told_in_one_sentence(rows, as_owner):
    answer = page(as_owner, rows[0], "change", **{"neck.projection_mm": "about 27", "do": "reckon"})
    assert answer.status_code == 422 and "about" in answer.content.decode()
    answer = page(as_owner, rows[0], "change", more="[neck", do="reckon")
    assert answer.status_code == 422


def test_a_bow_has_no_board_to_reckon(rows, as_owner):
    assert page(as_owner, rows[1], "change").status_code == 422


def test_the_season_is_told_from_the_visit_before(rows, book, as_owner):
    from purfling.shop.domain.visit import book_visit, close_visit, receive_visit

    assert "earlier visit" in page(as_owner, rows[0], "season").content.decode()
    close_visit(visit=book.visit, who=book.owner)
    later = receive_visit(
        visit=book_visit(player=book.player, objects=[book.violin], who=book.owner), who=book.owner
    ).rows.get()
    card = begin_card(row=later, moment="found", kind="full", who=book.owner)
    for (key, place), text in (FULL | {("neck.projection_mm", 0): "26"}).items():
        take_reading(card=card, key=key, place=place, text=text, who=book.owner)
    text = page(as_owner, later, "season").content.decode()
    assert "earlier visit" not in text and ('class="reckoned"' in text or 'role="alert"' in text)


def test_a_slow_one_waits_for_a_touch(rows, as_owner):
    assert OPENED["bridge"].slow
    text = page(as_owner, rows[0], "bridge").content.decode()
    assert 'role="status"' in text and 'class="reckoned"' not in text
