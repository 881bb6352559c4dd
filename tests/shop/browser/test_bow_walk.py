"""The bow's survey by touch on the tablet: frog written, warmth stopped and allowed, reckoned and kept."""

import re

import pytest
from django.urls import reverse

from purfling.shop.domain.card import begin_card, take_reading
from purfling.shop.domain.work import add_usual, add_work
from purfling.shop.models import BowPart, BowWedge, Reckoning, VisitObject, Warmth
from tests.shop.mark_help import keep

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def bow(book):
    """The bow's row with card and work list."""
    row = VisitObject.objects.select_related("visit", "object").get(visit=book.visit, object__kind="bow")
    card = begin_card(row=row, moment="found", kind="rehair", who=book.owner)
    for key, text in (("bow.mass_g", "58.2"), ("bow.balance_mm", "194"), ("state.humidity_percent", "50")):
        take_reading(card=card, key=key, text=text, who=book.owner)
    add_usual(row=row, who=book.owner)
    keep(row, who=book.owner, seed=5)
    for code in ("bow_lapping_off", "bow_lapping"):
        add_work(row=row, code=code, who=book.owner)
    return row


def write_part(tablet, part, **choices):
    box = tablet.locator(f"#part-{part}")
    box.locator("summary").tap()
    for name, value in choices.items():
        box.locator(f"select[name={name}]").select_option(value)
    touch(tablet, box.get_by_role("button", name="Keep"))


def touch(tablet, control):
    """Touch a control that leads to a page, and wait for the page."""
    with tablet.expect_navigation():
        control.tap()


def test_a_bow_is_surveyed_by_touch(tablet, come_in, picture, book, bow):
    come_in(book.owner)
    tablet.goto(tablet.base + reverse("visit", args=[bow.visit_id]))
    touch(tablet, tablet.get_by_role("link", name="Bow survey"))
    assert "counts as unknown" in tablet.inner_text("#main")
    picture("bow-new")
    write_part(tablet, "frog", material="horn", state="stuck")
    write_part(tablet, "stick", material="pernambuco", species="pernambuco", state="sound")
    write_part(tablet, "slide", material="nacre", state="stuck")
    assert BowPart.objects.count() == 3
    slide = tablet.locator(".warm").first
    touch(tablet, slide.get_by_role("button", name="It was warmed"))
    assert "horn" in tablet.inner_text(".stopped .reason")
    picture("bow-stopped")
    touch(tablet, tablet.get_by_role("link", name="Back, leave it"))
    write_part(tablet, "frog", material="ebony", state="stuck")
    slide = tablet.locator(".warm").first
    if slide.locator("details").get_attribute("open") is None:
        slide.locator("summary").tap()
    slide.get_by_label("Who said it").fill("Merle")
    slide.get_by_label("How").select_option("phone")
    slide.get_by_label("Price named").fill("35")
    slide.get_by_label(re.compile("In what words")).fill("Yes, and a new slide if it breaks.")
    touch(tablet, slide.get_by_role("button", name="Yes"))
    touch(tablet, tablet.locator(".warm").first.get_by_role("button", name="It was warmed"))
    assert Warmth.objects.get().warmed_at is not None
    picture("bow-warmed")
    touch(tablet, tablet.locator(".next-step").get_by_role("button", name="Done"))
    wedge = tablet.locator("#wedges .bow-parts > li").first
    wedge.locator("summary").tap()
    wedge.get_by_label("Photograph of the mortise").select_option(index=1)
    wedge.get_by_label("Wood").fill("poplar")
    wedge.get_by_label("Kept or new").select_option("kept")
    touch(tablet, wedge.get_by_role("button", name="Keep"))
    assert (BowWedge.objects.get().wood, bow.photographs.count()) == ("poplar", 1)
    assert BowWedge.objects.get().photograph == bow.photographs.get()
    tablet.locator("#failure").select_option("worn_by_finger")
    touch(tablet, tablet.locator("#old-lapping").get_by_role("button", name="Keep"))
    assert "worn through by the finger" in tablet.inner_text("#old-lapping p strong")
    picture("bow-survey")
    tablet.locator(".rail details.more summary").tap()
    touch(tablet, tablet.get_by_role("button", name="Deutsch"))
    picture("bow-survey-de")
    tablet.goto(tablet.base + reverse("bow", args=[bow.pk]))
    assert "Bogenaufnahme" in tablet.inner_text("h1") and "Ebenholz" in tablet.inner_text("#part-frog")
    picture("bow-survey-top", full=False)


def test_its_weight_balance_and_new_lapping_are_reckoned_by_touch_and_kept(
    tablet, come_in, picture, book, bow
):
    come_in(book.owner)
    tablet.goto(tablet.base + reverse("bow_reckoning", args=[bow.pk]))
    for name, text in (
        ("bow.frog_length_mm", "50"),
        ("bow.button_length_mm", "14"),
        ("bow.stick_length_mm", "712"),
        ("part.mass_g", "2.4"),
        ("part.at_mm", "112"),
        ("lapping.wire_mm", "0.28"),
        ("lapping.length_mm", "72"),
        ("lapping.from_mm", "75"),
        ("lapping.handle_mm", "8.6"),
    ):
        tablet.locator(f"[name='{name}']").fill(text)
    tablet.wait_for_selector(".bow-change")
    tablet.wait_for_function("document.querySelector('.bow-change')?.innerText.includes('TOWARDS THE FROG')")
    picture("bow-reckoning")
    touch(tablet, tablet.get_by_role("button", name="Keep with the visit"))
    assert set(Reckoning.objects.values_list("name", flat=True)) == {"bow", "lapping"}
    touch(tablet, tablet.locator(".lines a").first)
    picture("bow-kept")


SMALL = """[...document.querySelectorAll('main button, main select, main summary, main a.touch, main input')]
    .filter(e => e.offsetParent && !e.matches('[type=checkbox], [type=hidden]'))
    .filter(e => e.getBoundingClientRect().height < 47.5).map(e => e.outerHTML.slice(0, 90))"""


@pytest.mark.parametrize("name", ["bow", "bow_reckoning"])
def test_nothing_runs_over_the_edge_and_every_control_can_be_touched(tablet, come_in, book, bow, name):
    come_in(book.owner)
    tablet.goto(tablet.base + reverse(name, args=[bow.pk]))
    for details in tablet.locator("main details").all():
        details.evaluate("d => { d.open = true }")
    assert tablet.evaluate("document.documentElement.scrollWidth <= window.innerWidth")
    assert tablet.evaluate(SMALL) == []
