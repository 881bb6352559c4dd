"""By touch in a browser, 1024 x 768: the stop page for assistant and owner, a recipe of 2022."""

import os
from pathlib import Path

import pytest
from conftest_varnish import picture_file, shop_materials
from django.test import Client
from django.urls import reverse
from shop.browser.test_reach import FIGURES, TARGETS, WORDS
from shop.conftest import moment

from purfling.shop.domain import clock
from purfling.shop.domain.coat import add_line
from purfling.shop.domain.spot import add_picture, add_spot
from purfling.shop.domain.varnish_picture import keep_picture
from purfling.shop.domain.work import add_work
from purfling.shop.models import SpotTest, StopMet, Work
from purfling.shop.queries.varnish import size_of

pytestmark = [pytest.mark.full, pytest.mark.browser, pytest.mark.django_db(transaction=True)]
OUT = Path(__file__).resolve().parents[2] / "out"
CHROMIUM = "/usr/bin/chromium"
CORNER = {"view": "front", "x": 0.17, "y": 0.86, "place": "upper corner, bass side"}


@pytest.fixture
def shop(book, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    shop_materials(book)
    under = {"view": "front", "x": 0.62, "y": 0.04, "place": "under the chinrest's edge"}
    with clock.held(moment("2022-03-12 10:00")):
        book.spot = add_spot(
            thing=book.violin, who=book.owner, material=book.water, result="dissolved", **under
        )
        add_picture(spot=book.spot, sha256=keep_picture(picture_file()), who=book.owner)
    with clock.held(moment("2022-05-04 15:00")):
        book.line = add_line(thing=book.violin, task="retouch", who=book.owner, recipe=book.recipe, **CORNER)
    row = next(r for r in book.rows if r.object_id == book.violin.pk)
    book.work = add_work(row=row, code="cleaning", who=book.owner)
    return book


@pytest.fixture
def bench(live_server):
    """Open a tablet as somebody: ``bench(maker)`` gives a page."""
    if not os.access(CHROMIUM, os.X_OK):
        pytest.fail("chromium is missing: tools/system_packages.sh names the package")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as play:
        browser = play.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox", "--disable-gpu"])

        def open_as(maker, **look):
            client = Client()
            client.force_login(maker, backend="django.contrib.auth.backends.ModelBackend")
            context = browser.new_context(
                viewport={"width": 1024, "height": 768}, has_touch=True, base_url=live_server.url, **look
            )
            context.add_cookies(
                [{"name": "purfling", "value": client.cookies["purfling"].value, "url": live_server.url}]
            )
            page = context.new_page()
            page.set_default_timeout(60000)
            page.complaints = []
            page.on("console", lambda m: page.complaints.append(m.text) if m.type == "error" else None)
            return page

        yield open_as
        browser.close()


def keep_shot(page, name):
    OUT.mkdir(exist_ok=True)
    page.screenshot(path=str(OUT / f"varnish_{name}.png"), full_page=True)


def touch_sheet(page, place, size):
    """Touch a place of the sheet as a finger would."""
    from purfling.drawing.drawings.varnish_sheet import HIGH, WIDE, sheet_places

    view = next(p for p in sheet_places(False, size) if p.view == place["view"])
    x, y = view.on_sheet(place["x"], place["y"])
    svg = page.locator(".varnish-sheet svg")
    svg.scroll_into_view_if_needed()
    box = svg.bounding_box()
    page.touchscreen.tap(box["x"] + x / WIDE * box["width"], box["y"] + (HIGH - y) / HIGH * box["height"])


def test_the_assistant_meets_the_stop_and_the_owner_overrules_it(shop, bench):
    operation = reverse("operation", args=[shop.work.pk])
    start = f"form[action$='{reverse('work_start', args=[shop.work.pk])}'] button"
    page = bench(shop.assistant)
    page.goto(operation)
    page.locator(start).first.tap()
    page.wait_for_selector(".stop-page")
    assert "12 Mar 2022" in page.inner_text(".stop-page")
    assert page.locator(".stop-page img").evaluate("i => i.complete && i.naturalWidth > 100")
    assert page.locator("#word").count() == 0
    assert "Ilse" in page.inner_text(".stop-page")
    keep_shot(page, "stop_assistant")
    assert Work.objects.get(pk=shop.work.pk).state == "listed"

    page = bench(shop.owner)
    page.goto(operation)
    page.locator(start).first.tap()
    page.wait_for_selector("#word")
    keep_shot(page, "stop_owner")
    page.fill("#word", "dry brush only, no water")
    page.locator("button.stop").tap()
    page.wait_for_url(lambda url: not url.endswith("/start"))
    assert Work.objects.get(pk=shop.work.pk).state == "hand"
    rows = list(StopMet.objects.order_by("at"))
    assert [(str(r.who), r.overruled) for r in rows] == [("Joon", False), ("Ilse", False), ("Ilse", True)]
    page.goto(reverse("varnish", args=[shop.violin.pk]))
    text = page.inner_text("main")
    assert "dry brush only, no water" in text and "turned back" in text


def test_the_recipe_of_a_corner_of_2022_by_touch(shop, bench):
    page = bench(shop.assistant)
    page.goto(reverse("varnish", args=[shop.violin.pk]))
    keep_shot(page, "sheet")
    touch_sheet(page, CORNER, size_of(shop.violin))
    page.wait_for_selector("#here")
    found = page.inner_text("#here")
    assert "2022" in found and "dammar 10 g" in found and "Retouch 3" in found
    keep_shot(page, "corner")
    assert page.complaints == []


def test_a_spot_test_typed_by_touch_lies_where_it_was_touched(shop, bench):
    page = bench(shop.assistant)
    page.goto(reverse("spot_new", args=[shop.violin.pk]))
    touch_sheet(page, {"view": "back", "x": 0.3, "y": 0.1}, size_of(shop.violin))
    assert page.input_value("[name=view]") == "back"
    page.select_option("[name=material]", label="soft wax")
    page.locator("label", has_text="dulled").first.tap()
    page.locator("main button.next").tap()
    page.wait_for_selector(".verdict")
    spot = SpotTest.objects.get(view="back")
    assert (spot.x, spot.y) == (pytest.approx(0.3, abs=0.02), pytest.approx(0.1, abs=0.02))
    assert (spot.result, spot.follows) == ("dulled", "test")
    keep_shot(page, "spot")


@pytest.mark.parametrize("look", ["light", "dark"])
def test_targets_are_large_and_the_checker_complains_of_nothing(shop, bench, look):
    from axe_playwright_python.sync_playwright import Axe

    page = bench(shop.owner, color_scheme=look)
    for name, args in (
        ("varnish", [shop.violin.pk]),
        ("spot_new", [shop.violin.pk]),
        ("varnish_line_new", [shop.violin.pk]),
        ("close_place", [shop.violin.pk]),
        ("mixtures", [shop.violin.pk]),
        ("coat_clocks", []),
        ("materials", []),
        ("room", []),
        ("season", [shop.violin.pk]),
        ("spot", [shop.spot.pk]),
        ("varnish_line", [shop.line.pk]),
        ("recipe", [shop.recipe.pk]),
        ("material", [shop.spirit.pk]),
        ("material_new", []),
        ("recipe_new", []),
    ):
        page.goto(reverse(name, args=args))
        if look == "light":
            keep_shot(page, f"page_{name}")
        small = page.evaluate(TARGETS) + page.evaluate(FIGURES) + page.evaluate(WORDS)
        assert small == [], name
        assert page.evaluate("document.documentElement.scrollWidth") <= 1024, name
        found = [v["id"] + ": " + v["nodes"][0]["html"][:160] for v in Axe().run(page).response["violations"]]
        assert found == [], name
    assert page.complaints == []
