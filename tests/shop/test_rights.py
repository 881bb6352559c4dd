"""Every page: owner, assistant, stranger; wrong method; another record's id."""

import copy
import re
import subprocess
import uuid

import pytest
from django.db import transaction
from django.urls import get_resolver, reverse

PAGES = list(get_resolver("purfling.shop.urls").url_patterns)
IDS = {
    "changes": "player",
    "board": "board",
    "card": "card",
    "reckoning": "reckoning",
    "work-list": "row",
    "bow": "bow_row",
    "operation": "work",
    "tray": "row",
    "part": "part",
    "tries": "row",
    "try": "try_",
    "player": "player",
    "object": "violin",
    "visit": "visit",
    "arrival": "player",
    "visit-object": "row",
    "maker": "assistant",
    "loan": "loan",
    "shop": "assistant",
    "estimate": "estimate",
    "issued": "issued",
    "link": "link",
    "survey": "survey",
    "sighting": "sighting",
    "mark": "mark",
    "photograph": "photograph",
    "alignment": "alignment",
    "spot": "spot",
    "closed": "closed",
    "varnish-line": "line",
    "material": "material",
    "lot": "lot",
    "recipe": "recipe",
}


def url_of(pattern, book) -> str:
    """The page's address with ids of the small book."""
    return reverse(pattern.name, kwargs=kwargs_of(pattern, book))


def kwargs_of(pattern, book):
    """The record that a page is about, by the first word of its address."""
    if not pattern.pattern.converters:
        return {}
    first = str(pattern.pattern).split("/")[0]
    if first == "yes":
        return {"token": book.token}
    record = book.rows[0] if IDS[first] == "row" else getattr(book, IDS[first])
    return dict.fromkeys(pattern.pattern.converters, record.pk)


def full_work(book):
    """An operation on the list."""
    from purfling.shop.domain.tray import lay_in
    from purfling.shop.domain.tries import add_try
    from purfling.shop.domain.work import add_work

    row = next(r for r in book.rows if not r.object.is_bow)
    book.rows.sort(key=lambda r: r != row)
    book.work = add_work(row=row, code="card", who=book.owner)
    book.part = lay_in(row=row, part="peg", hole=2, who=book.owner)
    book.try_ = add_try(row=row, behind_mm=2.5, who=book.owner)


def with_marks(book):
    """A survey of the violin with one mark and two photographs, one laid over the other."""
    from purfling.shop.domain.mark import record_mark
    from purfling.shop.domain.survey import begin_survey
    from tests.shop.mark_help import alignment_of, keep, violin_row

    row = violin_row(book)
    book.survey = begin_survey(row=row, who=book.owner)
    book.sighting = record_mark(
        survey=book.survey, view="front", points=[[0.2, 0.3]], kind="bump", who=book.owner
    )
    book.mark = book.sighting.mark
    book.photograph = keep(row, who=book.owner, seed=1)
    book.alignment = alignment_of(book.photograph, keep(row, who=book.owner, seed=2), book.owner)


def full_bow(book):
    """The bow's survey with a part, a wedge, and a yes with its price."""
    from purfling.shop.domain.bow import set_part, set_wedge
    from purfling.shop.domain.bow_warmth import allow_warmth

    row = next(r for r in book.rows if r.object.is_bow)
    book.bow_row = row
    set_part(row=row, part="frog", material="ebony", state="sound", who=book.owner)
    set_wedge(row=row, place="head", wood="poplar", who=book.owner)
    allow_warmth(row=row, part="slide", by="Merle", how="phone", price="77.50", who=book.owner)


@pytest.fixture
def full_book(book):
    """The small book with something lent, a card that has begun and a kept reckoning."""
    from purfling.craft.result import Answer
    from purfling.shop.domain.card import begin_card
    from purfling.shop.domain.reckoning import keep_reckoning
    from purfling.shop.domain.visit import lend
    from tests.shop.board_book import with_small_board
    from tests.shop.money_book import with_money

    book.loan = lend(visit=book.visit, what="a violin", who=book.owner)
    book.card = begin_card(row=book.rows[0], moment="found", kind="usual", who=book.owner)
    book.reckoning = keep_reckoning(
        row=book.rows[0], name="setup", tables={}, answer=Answer({"strings": []}), who=book.owner
    )
    full_work(book)
    with_marks(book)
    varnish_of(book)
    full_bow(book)
    with_small_board(book)
    return with_money(book)


def varnish_of(book):
    """A spot test, a line of the log, a closed place, a material, a lot, a recipe."""
    from conftest_varnish import shop_materials

    from purfling.shop.domain.closed import close_place
    from purfling.shop.domain.coat import add_line
    from purfling.shop.domain.spot import add_spot

    shop_materials(book)
    book.material, book.lot = book.water, book.water_lot
    common = {"thing": book.violin, "who": book.owner, "place": "corner"}
    book.spot = add_spot(material=book.spirit, result="softened", **common)
    book.line = add_line(task="retouch", recipe=book.recipe, word="own retouch", **common)
    book.closed = close_place(reason="label", **common)


def fine(pattern):
    """What a page answers that was opened with nothing typed; the JSON doors say that nothing came."""
    return (400,) if pattern.name in ("card_reading", "card_typing", "board_reading") else (200, 302, 422)


def call(client, pattern, book):
    method = "get" if "GET" in pattern.callback.door_methods else "post"
    return getattr(client, method)(url_of(pattern, book))


def each(client, pages=PAGES):
    """Each page by itself on one small book: what it wrote is rolled back before the next is opened."""
    cookies = copy.deepcopy(client.cookies)
    for pattern in pages:
        begun = transaction.savepoint()
        yield pattern
        transaction.savepoint_rollback(begun)
        client.cookies = copy.deepcopy(cookies)


def test_every_page_has_gone_through_the_door():
    assert {p.name for p in PAGES if p.callback.door_role not in ("owner", "assistant", "anyone")} == set()


def test_owner_works(full_book, as_owner):
    for pattern in each(as_owner):
        assert call(as_owner, pattern, full_book).status_code in fine(pattern), pattern.name


def test_assistant_meets_the_reason_on_the_owners_pages(full_book, as_assistant):
    for pattern in each(as_assistant):
        answer = call(as_assistant, pattern, full_book)
        if pattern.callback.door_role == "owner":
            assert answer.status_code == 403, pattern.name
            assert "owner" in answer.content.decode(), pattern.name
        else:
            assert answer.status_code in fine(pattern), pattern.name


def test_stranger_is_sent_to_the_way_in(full_book, stranger):
    for pattern in each(stranger):
        answer = call(stranger, pattern, full_book)
        if pattern.callback.door_role == "anyone":
            assert answer.status_code in (200, 302), pattern.name
            continue
        if "GET" in pattern.callback.door_methods:
            assert (answer.status_code, answer.url.split("?")[0]) == (302, "/enter"), pattern.name
        else:
            assert answer.status_code == 403, pattern.name
        assert "Aschenbrand" not in answer.content.decode(), pattern.name


def test_wrong_method_is_refused(full_book, as_owner):
    for pattern in each(as_owner):
        wrong = "delete" if "GET" in pattern.callback.door_methods else "get"
        answer = getattr(as_owner, wrong)(url_of(pattern, full_book))
        assert answer.status_code == 405, pattern.name


def test_an_id_that_is_not_in_the_book_is_not_here(full_book, as_owner):
    for pattern in each(as_owner, [p for p in PAGES if p.pattern.converters]):
        address = reverse(pattern.name, kwargs={n: uuid.uuid4() for n in pattern.pattern.converters})
        method = "get" if "GET" in pattern.callback.door_methods else "post"
        assert getattr(as_owner, method)(address).status_code == 404, pattern.name


DRAWN = re.compile(r"<svg.*?</svg>", re.S)  # coordinates are no money


def text_of(answer) -> str:
    """What a page or a paper says."""
    if answer["Content-Type"] != "application/pdf":
        return DRAWN.sub("", b"".join(answer).decode("utf-8", "replace"))
    return subprocess.run(
        ["pdftotext", "-", "-"], input=answer.content, capture_output=True, check=True
    ).stdout.decode()


SEALED = ("Secret Lane", "merle@example.org", "98765.00", "4321.00")
MONEY = ("180.00", "75.00", "77.50", "DE02120300000000202051")


def test_no_page_shows_an_assistant_values_addresses_or_money(full_book, as_assistant):
    for pattern in each(as_assistant, [p for p in PAGES if "GET" in p.callback.door_methods]):
        text = text_of(as_assistant.get(url_of(pattern, full_book), follow=True))
        if pattern.name == "estimate_by_link":  # the player's own, behind a signed address
            continue
        for word in (*SEALED, *MONEY):
            assert word not in text, (pattern.name, word)


def test_the_owner_does_see_what_is_sealed(full_book, as_owner):
    """The counterpart: without it the test above could not fail."""
    text = "".join(
        as_owner.get(url).content.decode()
        for url in (
            reverse("player", args=[full_book.player.pk]),
            reverse("object", args=[full_book.violin.pk]),
            reverse("visit", args=[full_book.visit.pk]),
        )
    )
    for word in SEALED:
        assert word in text


def test_a_sealed_field_that_an_assistant_posts_is_not_taken(full_book, as_assistant):
    address = reverse("player_edit", args=[full_book.player.pk])
    as_assistant.post(address, {"kind": "person", "name": "Aschenbrand", "address": "New Lane", "seen": 1})
    full_book.player.refresh_from_db()
    assert full_book.player.address == "Secret Lane 5"


def test_the_history_of_a_record_hides_what_is_sealed_and_what_is_the_owners(
    full_book, as_assistant, as_owner
):
    from purfling.shop.domain.shop import the_shop

    address = reverse("changes", args=[full_book.player.pk])
    assert "Secret Lane" in as_owner.get(address).content.decode()
    assert "Secret Lane" not in as_assistant.get(address).content.decode()
    for record in (the_shop(), full_book.owner):
        address = reverse("changes", args=[record.pk])
        assert as_owner.get(address).status_code == 200
        assert as_assistant.get(address).status_code == 404
