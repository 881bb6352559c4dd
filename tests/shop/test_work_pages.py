"""The work list and the bench through their pages."""

import pytest
from django.urls import reverse

from purfling.shop.domain import clock
from purfling.shop.domain.work import add_usual, add_work
from purfling.shop.models import Work

from .conftest import moment


@pytest.fixture
def violin(book):
    """The violin's row of the visit."""
    return book.rows[0] if not book.rows[0].object.is_bow else book.rows[1]


def test_the_usual_service_stands_on_the_list_in_one_touch(violin, as_owner):
    as_owner.post(reverse("work_usual", args=[violin.pk]))
    page = as_owner.get(reverse("work_list", args=[violin.pk])).content.decode()
    assert "board dressing" in page and "polish, one sitting" in page and "leather" not in page
    bench = as_owner.get("/").content.decode()
    assert "arrival card at pitch" in bench
    work = Work.objects.filter(visit_object=violin).first()
    assert as_owner.get(reverse("operation", args=[work.pk])).status_code == 200
    visit = as_owner.get(reverse("visit", args=[violin.visit_id])).content.decode()
    assert "board dressing" in visit


def crowd(book, visits: int):
    """More players with a violin and a bow, each with the usual service begun."""
    from purfling.shop.domain.object import add_object
    from purfling.shop.domain.player import add_player
    from purfling.shop.domain.visit import book_visit, receive_visit
    from purfling.shop.domain.work_bench import finish_work, start_work

    for n in range(visits):
        player = add_player(who=book.owner, name=f"Player {n}")
        things = [
            add_object(who=book.owner, owner=player, family="violin", kind=kind)
            for kind in ("instrument", "bow")
        ]
        visit = receive_visit(visit=book_visit(player=player, objects=things, who=book.owner), who=book.owner)
        for row in visit.rows.select_related("object", "visit"):
            add_usual(row=row, who=book.owner)
            first = row.work.order_by("place").first()
            start_work(work=first, who=book.owner)
            finish_work(work=first, who=book.owner)


def queries_of(client, url) -> int:
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    with CaptureQueriesContext(connection) as told:
        assert client.get(url).status_code == 200
    return len(told)


def test_queries_do_not_grow_with_what_is_in_the_house(violin, book, as_owner):
    add_usual(row=violin, who=book.owner)
    work = violin.work.order_by("place").first()
    pages = {
        "bench": "/",
        "visit": reverse("visit", args=[violin.visit_id]),
        "list": reverse("work_list", args=[violin.pk]),
        "operation": reverse("operation", args=[work.pk]),
        "tray": reverse("tray", args=[violin.pk]),
        "tries": reverse("tries", args=[violin.pk]),
        "hand-over": reverse("hand_over", args=[violin.visit_id]),
        "catalogue": reverse("catalogue"),
        "log": reverse("work_log"),
        "sheet": reverse("bench_sheet"),
        "reckoning": reverse("opened", args=[violin.pk]),
    }
    as_owner.post(reverse("bench_sheet_print"))
    crowd(book, 1)
    few = {name: queries_of(as_owner, url) for name, url in pages.items()}
    crowd(book, 5)
    as_owner.post(reverse("bench_sheet_print"))
    many = {name: queries_of(as_owner, url) for name, url in pages.items()}
    assert many == few
    assert max(many.values()) <= 24, many


def test_the_catalogue_is_the_shops_own_and_its_minutes_are_the_owners(violin, book, as_owner, as_assistant):
    address = reverse("catalogue_operation")
    typed = {"code": "pegs", "violin": "75", "price": "48.50", "owner_only": "on", "owner_only_word": "mine"}
    assert as_owner.post(address, typed).status_code == 302
    for client, shown in ((as_owner, True), (as_assistant, False)):
        page = client.get(reverse("catalogue")).content.decode()
        assert "48.50" in page and (">75<" in page) == shown
    work = add_work(row=violin, code="pegs", who=book.owner)
    assert (work.minutes, str(work.price)) == (75, "48.50")
    stopped = as_assistant.post(reverse("work_start", args=[work.pk]))
    assert stopped.status_code == 422 and "mine" in stopped.content.decode()
    as_owner.post(reverse("catalogue_own"), {"name": "Case polished", "of": "instrument", "minutes": "20"})
    page = as_owner.get(reverse("work_list", args=[violin.pk])).content.decode()
    assert "Case polished" in page
    own = as_owner.post(reverse("work_add", args=[violin.pk]), {"code": "own_case_polished"})
    assert own.status_code == 302 and Work.objects.get(code="own_case_polished").minutes == 20


def test_bench_hours_are_the_shops_own(book, as_owner):
    from purfling.shop.queries.catalogue import shop_hours

    bad = as_owner.post(reverse("catalogue_hours"), {"week": "mon early"})
    assert bad.status_code == 422 and "Write each line as mon" in bad.content.decode()
    good = {"week": "mon 8:00-12:00 13:00-17:00\ntue 10:00-19:00", "closed": "2026-12-24"}
    assert as_owner.post(reverse("catalogue_hours"), good).status_code == 302
    hours = shop_hours()
    assert [len(hours.week[d]) for d in ("mon", "tue")] == [2, 1] and len(hours.closed) == 1
    assert "mon 08:00-12:00 13:00-17:00" in as_owner.get(reverse("catalogue")).content.decode()


def test_what_now_fills_a_wait_first_with_what_needs_no_instrument(violin, book, owner):
    """While a coat hardens on one violin, carving its bridge stands before work on any instrument."""
    from purfling.shop.domain.work_bench import finish_work, start_work
    from purfling.shop.queries.work_now import what_now

    with clock.held(moment("2026-11-23T09:00")):
        carve = add_work(row=violin, code="bridge_carved", who=owner)
        bow = next(r for r in book.rows if r.object.is_bow)
        card = add_work(row=bow, code="bow_card", who=owner)
        assert what_now(owner).next[0].work in (card, carve)
        coat = add_work(row=violin, code="retouch", who=owner)
        start_work(work=coat, who=owner)
        finish_work(work=coat, who=owner)
        now = what_now(owner)
        assert now.line.work == carve and now.until == now.waits[0].work.look_at
    with clock.held(now.until):
        assert what_now(owner).line.work == coat


def test_german_pages_of_the_bench_are_german(violin, book, as_owner):
    add_usual(row=violin, who=book.owner)
    as_owner.post(reverse("language"), {"language": "de", "next": "/"})
    bench = as_owner.get("/").content.decode()
    assert "Beginnen" in bench and "Ankunftskarte auf Stimmung" in bench and "Start<" not in bench
    page = as_owner.get(reverse("work_list", args=[violin.pk])).content.decode()
    assert "Griffbrett abrichten" in page and "board dressing" not in page


def test_under_the_cloth_no_name_stands_on_the_benchs_pages(violin, book, as_owner):
    add_usual(row=violin, who=book.owner)
    as_owner.post(reverse("cloth"), {"next": "/"})
    for url in ("/", reverse("work_list", args=[violin.pk]), reverse("hand_over", args=[violin.visit_id])):
        assert "Aschenbrand" not in as_owner.get(url).content.decode().split("<main")[1]


def test_two_benches_at_the_same_operation_and_the_second_page_says_who_has_it(
    violin, book, as_owner, as_assistant
):
    work = add_work(row=violin, code="pegs", who=book.owner)
    with clock.held(moment("2026-11-23T09:40")):
        assert as_owner.post(reverse("work_start", args=[work.pk])).status_code == 302
        second = as_assistant.post(reverse("work_start", args=[work.pk]))
    text = second.content.decode()
    assert second.status_code == 422
    assert "Ilse has peg service in hand since 09:40" in text and "nothing of yours is lost" in text
    assert 'id="word"' not in text
    work.refresh_from_db()
    assert work.hands == book.owner
    finish = as_assistant.post(reverse("work_finish", args=[work.pk]))
    assert finish.status_code == 422 and Work.objects.get(pk=work.pk).state == "hand"


def test_the_recipe_is_written_with_the_finish(violin, book, as_owner):
    work = add_work(row=violin, code="retouch", who=book.owner)
    as_owner.post(reverse("work_start", args=[work.pk]))
    page = as_owner.get(reverse("operation", args=[work.pk])).content.decode()
    assert 'name="recipe"' in page
    as_owner.post(reverse("work_finish", args=[work.pk]), {"recipe": "spirit, thin"})
    work.refresh_from_db()
    assert (work.state, work.recipe) == ("waiting", "spirit, thin")
