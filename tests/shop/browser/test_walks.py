"""The maker's walks, by touch and by keyboard alone, as owner and as assistant, in a real browser."""

import re

import pytest
from django.urls import reverse
from shop.conftest import PHRASE

from purfling.shop.asked import asked_of
from purfling.shop.domain.card import begin_card, take_reading
from purfling.shop.models import Card, Object, Player, Reading, Visit

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

# What a maker reads off the gauges; digits as they are touched, no leading zero, no point.
FULL = {
    "state.humidity_percent": "47",
    "state.temperature_c": "20.5",
    "post.behind_mm": "3.0",
    "post.inside_mm": "1.5",
    "post.tightness": "3",
    "bridge.lean_deg": "0.5",
    "neck.string_length_mm": "328.0",
    "end.clearance_mm": "5.5 4.9 4.2 3.5",
    "nut.clearance_mm": "0.40 0.35 0.30 0.25",
    "neck.projection_mm": "26.75",
    "bridge.height_centre_mm": "33.2",
    "bridge.spacing_mm": "33.6",
    "nut.spacing_mm": "16.4",
    "board.length_mm": "270.0",
    "board.radius_nut_mm": "42.0",
    "board.radius_end_mm": "41.5",
    "board.scoop_low_mm": "0.70",
    "board.scoop_high_mm": "0.40",
    "board.edge_at_root_mm": "4.6",
    "neck.stop_mm": "130.0",
    "neck.overstand_mm": "6.2",
    "body.stop_mm": "195.0",
    "body.arch_mm": "15.6",
    "saddle.height_mm": "7.5",
    "saddle.distance_mm": "158.0",
    "tail.afterlength_mm": "54.5",
}
REHAIR = {
    "state.humidity_percent": "46",
    "bow.mass_g": "60.4",
    "bow.balance_mm": "191",
    "hair.eye_place_mm": "4.0",
    "hair.hair_mass_g": "4.6",
}


def typed_value(asked, table):
    return table[asked.key].split()[asked.place if asked.reading.many else 0]


def digits_of(text: str) -> str:
    """5.5 -> 55, 328.0 -> 328, 0.40 -> 4: what is touched."""
    short = text.rstrip("0").rstrip(".") if "." in text else text
    return short.replace(".", "").lstrip("0") or "0"


def stored(card_id):
    return {(r.key, r.place): r.value for r in Reading.objects.filter(card=card_id)}


def wait_for_count(page, card_id, count):
    for _ in range(50):
        if Reading.objects.filter(card=card_id).count() >= count:
            return
        page.wait_for_timeout(100)


@pytest.mark.parametrize("who", ["owner", "assistant"])
def test_find_add_and_arrival_by_touch(book, tablet, picture, who):
    page = tablet
    page.goto(page.base)
    page.fill("[name=username]", "Ilse" if who == "owner" else "Joon")
    page.fill("[name=password]", PHRASE)
    page.tap("button.next")
    page.wait_for_url(page.base + "/")
    picture(f"bench-{who}")
    page.fill("#find", "honey")
    page.tap(".rail .find button")
    page.tap(".found a.line >> nth=0")
    assert page.locator("h1").inner_text() == "violin, the honey one"
    picture(f"object-{who}")
    assert ("98765" in page.content()) == (who == "owner")
    # a new player with a violin, here now
    page.tap("nav >> text=Arrival")
    page.wait_for_selector("#who")
    page.fill("#who", "aschen")
    page.wait_for_selector("#those a.line")
    picture(f"arrival-{who}")
    page.tap("main >> text=New player")
    page.fill("[name=town]", "Wendelfurt")
    page.fill("[name=name]", "Kieselgrund")
    assert page.locator("[name=address]").count() == (1 if who == "owner" else 0)
    picture(f"player-new-{who}")
    page.tap("main button.next")
    page.tap("text=Add an instrument or bow")
    page.fill("[name=nickname]", "the red one")
    page.tap("main button.next")
    page.tap(".actions >> text=Arrival")
    page.tap("[name=objects]")
    page.fill("[name=complaint]", "A rattle on the lowest string.")
    picture(f"arrival-of-{who}")
    page.tap("main button.next")
    page.wait_for_url(re.compile("/visit/"))
    visit = Visit.objects.get(player=Player.objects.get(name="Kieselgrund"))
    assert [r.object for r in visit.rows.all()] == [Object.objects.get(nickname="the red one")]
    assert "A rattle" in page.content()
    picture(f"visit-{who}")


def test_a_whole_full_card_by_touch_with_one_touch_per_digit_and_one_per_figure(
    book, tablet, come_in, picture
):
    page = tablet
    come_in(book.owner)
    page.goto(page.base + reverse("cards", args=[book.rows[0].pk]))
    page.tap("button[value=full]")
    page.wait_for_selector("#count:not(:empty)")
    asked = asked_of("full", book.violin)
    touches = 0
    for number, one in enumerate(asked):
        assert page.locator("#count").inner_text() == f"{number + 1} / {len(asked)}"
        if number == 7:
            picture("pad-full", full=False)
        digits = digits_of(typed_value(one, FULL))
        for digit in digits:
            page.tap(f".pad [data-digit='{digit}']")
            touches += 1
        page.tap("#next")
        touches += 1
    assert touches == sum(len(digits_of(typed_value(a, FULL))) + 1 for a in asked)
    page.wait_for_url(re.compile(r"/cards$"))
    picture("cards-full")
    values = stored(Card.objects.get().pk)
    assert values == {(a.key, a.place): float(typed_value(a, FULL)) for a in asked}


def test_a_rehair_card_by_keyboard_alone_as_assistant(book, tablet, come_in, picture):
    page = tablet
    come_in(book.assistant)
    page.goto(page.base + reverse("visit", args=[book.visit.pk]))
    button = page.locator(f"form[action='{reverse('card_begin', args=[book.rows[1].pk])}'] button")
    for _ in range(60):
        page.keyboard.press("Tab")
        if button.evaluate("b => b === document.activeElement"):
            break
    page.keyboard.press("Enter")
    page.wait_for_selector("#count:not(:empty)")
    for asked in asked_of("rehair", book.bow):
        page.keyboard.type(typed_value(asked, REHAIR))
        if asked.key == "bow.balance_mm":
            picture("pad-rehair", full=False)
        page.keyboard.press("Enter")
    page.wait_for_url(re.compile(r"/cards$"))
    card = Card.objects.get()
    assert card.who == book.assistant
    assert stored(card.pk) == {
        (a.key, a.place): float(typed_value(a, REHAIR)) for a in asked_of("rehair", book.bow)
    }


def test_interrupted_anywhere_the_card_resumes_there_with_what_was_typed(book, tablet, come_in):
    page = tablet
    come_in(book.owner)
    card = begin_card(row=book.rows[0], moment="found", kind="usual", who=book.owner)
    page.goto(page.base + reverse("card_pad", args=[card.pk]))
    page.tap(".pad [data-digit='4']")
    page.tap(".pad [data-digit='7']")
    page.tap("#next")
    page.tap(".pad [data-digit='3']")
    with page.expect_response(re.compile("typing")):
        pass
    page.goto("about:blank")
    page.goto(page.base + reverse("card_pad", args=[card.pk]))
    assert page.locator("#count").inner_text() == "2 / 12"
    assert page.input_value("#figure") == "3"


def test_same_is_one_touch_and_a_figure_out_of_reach_of_the_book_is_not_lost(book, tablet, come_in, context):
    from purfling.shop.domain.visit import book_visit, close_visit, receive_visit

    left = begin_card(row=book.rows[0], moment="left", kind="usual", who=book.owner)
    for key, text in (("post.behind_mm", "3.5"), ("post.tightness", "3")):
        take_reading(card=left, key=key, text=text, who=book.owner)
    close_visit(visit=book.visit, who=book.owner)
    visit = book_visit(player=book.player, objects=[book.violin], who=book.owner)
    row = receive_visit(visit=visit, who=book.owner).rows.select_related("object").get()
    card = begin_card(row=row, moment="found", kind="usual", who=book.owner)
    page = tablet
    come_in(book.owner)
    page.goto(page.base + reverse("card_pad", args=[card.pk]) + "?at=post.behind_mm-0")
    assert page.locator("#before").inner_text() == "3.5 mm"
    page.tap("#same")
    wait_for_count(page, card.pk, 1)
    taken = Reading.objects.get(card=card)
    assert (taken.value, taken.same) == (3.5, True)
    page.route("**/reading", lambda route: route.abort())
    page.tap("#same")
    page.wait_for_selector("#notes.complaint")
    assert Reading.objects.filter(card=card).count() == 1
    page.unroute("**/reading")
    wait_for_count(page, card.pk, 2)
    assert Reading.objects.get(card=card, key="post.tightness").value == 3


def test_a_number_changed_on_the_set_up_sheet_redraws_it(book, tablet, come_in, picture):
    from shop.test_setup_page import card_of_example

    card_of_example(book)
    page = tablet
    come_in(book.owner)
    page.goto(page.base + reverse("reckon_setup", args=[book.rows[0].pk]))
    before = page.locator(".picture.bridge svg").inner_html()
    page.locator(".picture.side .number-on-line", has_text="/").tap()
    box = page.locator(".number.up input.wished >> nth=0")
    assert box.evaluate("b => b === document.activeElement")
    page.keyboard.type("5.0")
    page.wait_for_function("b => document.querySelector('.picture.bridge svg').innerHTML !== b", arg=before)
    picture("setup-touched", full=False)
    page.keyboard.press("Escape")
    picture("setup")
    assert page.locator(".results td.wished >> nth=0").inner_text() != ""


def test_string_height_two_years_ago_in_two_touches(book, tablet, come_in, picture):
    from shop.test_history_page import years_of_cards

    row = years_of_cards(book)
    page = tablet
    come_in(book.owner)
    page.locator(f".house a[href='{reverse('visit', args=[row.visit_id])}']").tap()
    page.tap("text=History")
    page.wait_for_url(re.compile("history"))
    assert page.locator("text=Jun 2023").first.is_visible()
    assert page.locator(".years-apart td", has_text="5.2").first.is_visible()
    picture("history")
