"""The bench's pages: nothing for axe to find, targets of 48 px, nothing under 16 px, light and dark."""

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.urls import reverse

from purfling.shop.domain import clock
from purfling.shop.domain.sheet import print_sheet
from purfling.shop.domain.tray import lay_in
from purfling.shop.domain.tries import add_try
from purfling.shop.domain.work import add_usual, add_work
from purfling.shop.domain.work_bench import finish_work, start_work
from purfling.shop.models import VisitObject, Work

from ..conftest import moment

pytestmark = [pytest.mark.browser]
SMALL = """() => [...document.querySelectorAll(
    'main button, main a.touch, main .bigtouches a, main summary, main select')]
  .filter(e => e.offsetParent !== null)
  .map(e => [e.innerText.slice(0, 30), e.getBoundingClientRect()])
  .filter(([t, r]) => r.height < 47.5 || r.width < 47.5)
  .map(([t, r]) => `${t} ${r.width} x ${r.height}`)"""
TINY = """() => [...document.querySelectorAll('main *')]
  .filter(e => e.offsetParent !== null && !e.closest('svg'))
  .filter(e => [...e.childNodes].some(n => n.nodeType === 3 && n.textContent.trim()))
  .filter(e => parseFloat(getComputedStyle(e).fontSize) < 16)
  .map(e => e.tagName + ' ' + e.innerText.slice(0, 30))"""


@pytest.fixture
def pages(book):
    """A bench with something in hand, something that dries, something in the tray and a try."""
    clock.hold(moment("2026-11-23T09:00"))
    row = next(r for r in book.rows if not r.object.is_bow)
    row = VisitObject.objects.select_related("visit", "object").get(pk=row.pk)
    add_usual(row=row, who=book.owner)
    add_work(row=row, code="seam", who=book.owner, found=True)
    for code in ("retouch", "card"):
        work = Work.objects.get(code=code)
        start_work(work=work, who=book.owner, word="out of turn")
        if code == "retouch":
            finish_work(work=work, who=book.owner)
    lay_in(row=row, part="peg", hole=2, who=book.owner)
    lay_in(row=row, part="bridge", who=book.owner)
    add_try(row=row, behind_mm=2.5, inside_mm=1.0, who=book.owner)
    add_try(row=row, behind_mm=3.0, inside_mm=1.4, who=book.owner)
    print_sheet(who=book.owner)
    card = Work.objects.get(code="card")
    return {
        "bench": "/",
        "list": reverse("work_list", args=[row.pk]),
        "operation": reverse("operation", args=[card.pk]),
        "tray": reverse("tray", args=[row.pk]),
        "tries": reverse("tries", args=[row.pk]),
        "hand-over": reverse("hand_over", args=[row.visit_id]),
        "catalogue": reverse("catalogue"),
        "sheet": reverse("bench_sheet"),
        "reckoning": reverse("opened", args=[row.pk]),
    }


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing_and_every_target_is_a_thumb_wide(tablet, pages, book, scheme):
    tablet.enter(book.owner)
    tablet.page.emulate_media(color_scheme=scheme)
    complaints = []
    for name, path in pages.items():
        tablet.go(path)
        found = Axe().run(tablet.page).response["violations"]
        complaints += [(name, v["id"], [n["target"] for n in v["nodes"]][:4]) for v in found]
        complaints += [(name, "small", one) for one in tablet.page.evaluate(SMALL)]
        complaints += [(name, "tiny", one) for one in tablet.page.evaluate(TINY)]
        tablet.picture(f"looks-{name}-{scheme}")
    assert complaints == []
