"""Every main page: nothing for axe to find, targets of 48 px, figures of 18 px, light and dark."""

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.urls import reverse
from shop.test_history_page import years_of_cards
from shop.test_setup_page import card_of_example

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

TARGETS = """() => {
  const small = [];
  const all = 'a, button, input:not([type=hidden]), select, textarea, summary';
  for (const el of document.querySelectorAll(all)) {
    if (!el.checkVisibility({checkVisibilityCSS: true})) continue;
    if (el.disabled || el.classList.contains('skip')) continue;
    const held = el.matches('[type=checkbox], [type=radio]') ? el.closest('label') || el : el;
    const box = held.getBoundingClientRect();
    if (box.height < 47.5 || box.width < 47.5) {
      const words = (el.innerText || el.name || el.id).slice(0, 30);
      small.push(`${el.tagName} ${words} ${box.width.toFixed(0)}x${box.height.toFixed(0)}`);
    }
  }
  return small;
}"""
FIGURES = """() => {
  const small = [];
  for (const el of document.querySelectorAll('.figure, td:not(.how td), .value, .tag, svg text')) {
    if (!el.checkVisibility() || !el.textContent.trim()) continue;
    let size = parseFloat(getComputedStyle(el).fontSize);
    if (el.ownerSVGElement) size *= Math.hypot(el.getScreenCTM().a, el.getScreenCTM().b);
    if (size < 17.9) small.push(`${el.textContent.trim().slice(0, 20)} ${size.toFixed(1)}`);
  }
  return small;
}"""
WORDS = """() => [...document.querySelectorAll('body *')].filter((el) => el.checkVisibility()
  && [...el.childNodes].some((n) => n.nodeType === 3 && n.textContent.trim())
  && !el.closest('svg') && !el.classList.contains('unseen')
  && parseFloat(getComputedStyle(el).fontSize) < 16).map((el) => el.textContent.trim().slice(0, 30))"""


@pytest.fixture
def pages(book):
    """The main pages of a book with some years in it."""
    card = card_of_example(book)
    row = book.rows[0]
    return {
        "bench": reverse("bench"),
        "find": reverse("find") + "?q=aschen",
        "player": reverse("player", args=[book.player.pk]),
        "player-edit": reverse("player_edit", args=[book.player.pk]),
        "forget": reverse("player_forget", args=[book.player.pk]),
        "object": reverse("object", args=[book.violin.pk]),
        "object-edit": reverse("object_edit", args=[book.violin.pk]),
        "give": reverse("object_give", args=[book.violin.pk]) + "?q=aschen",
        "history": reverse("history", args=[book.violin.pk]),
        "visit": reverse("visit", args=[book.visit.pk]),
        "visit-edit": reverse("visit_edit", args=[book.visit.pk]),
        "arrival": reverse("arrival") + "?q=aschen",
        "arrival-of": reverse("arrival_of", args=[book.player.pk]),
        "cards": reverse("cards", args=[row.pk]),
        "pad": reverse("card_pad", args=[card.pk]),
        "fix": reverse("card_fix", args=[card.pk]),
        "strings-off": reverse("strings_off", args=[row.pk]),
        "setup": reverse("reckon_setup", args=[row.pk]),
        "shop": reverse("shop"),
    }


@pytest.mark.parametrize("scheme", ["light", pytest.param("dark", marks=pytest.mark.full)])
def test_axe_finds_nothing(book, pages, tablet, come_in, scheme):
    tablet.emulate_media(color_scheme=scheme)
    come_in(book.owner)
    found = {}
    for name, url in pages.items():
        tablet.goto(tablet.base + url)
        result = Axe().run(tablet)
        if result.violations_count:
            found[name] = [
                (v["id"], [n["html"][:120] for n in v["nodes"]][:2]) for v in result.response["violations"]
            ]
    assert found == {}


def test_targets_are_48_and_figures_18_pixels(book, pages, tablet, come_in):
    come_in(book.owner)
    small = {}
    for name, url in pages.items():
        tablet.goto(tablet.base + url)
        complaints = tablet.evaluate(TARGETS) + tablet.evaluate(FIGURES) + tablet.evaluate(WORDS)
        if complaints:
            small[name] = complaints
        assert tablet.evaluate("document.documentElement.scrollWidth") <= 1024, name
    assert small == {}


def test_the_pad_fits_the_tablet_without_scrolling_and_its_figure_is_large(book, pages, tablet, come_in):
    come_in(book.owner)
    tablet.goto(tablet.base + pages["pad"])
    bottom = tablet.locator("#next").bounding_box()
    assert bottom["y"] + bottom["height"] <= 768
    assert tablet.locator("#figure").evaluate("e => parseFloat(getComputedStyle(e).fontSize)") >= 28


def test_the_way_in_is_reachable_too(book, tablet):
    tablet.goto(tablet.base + "/enter")
    assert Axe().run(tablet).violations_count == 0
    assert tablet.evaluate(TARGETS) == []


def test_pages_in_german_and_dark(book, tablet, come_in, picture):
    from purfling.shop.domain.shop import set_language

    row = years_of_cards(book)
    set_language(maker=book.owner, language="de")
    tablet.emulate_media(color_scheme="dark")
    come_in(book.owner)
    picture("bench-dark-de")
    tablet.goto(tablet.base + reverse("history", args=[row.object_id]))
    picture("history-dark-de")
    assert "Saitenhöhe am Brettende" in tablet.content()
