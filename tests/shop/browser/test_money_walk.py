"""By touch: an estimate, its link opened as a stranger, the yes, found work, the invoice, the credit note."""

import re
from decimal import Decimal

import pytest

from purfling.shop.domain.pricing import set_price
from tests.shop.money_book import set_terms

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def priced(book):
    """The small book with terms and two prices."""
    set_terms(book)
    set_price(code="board", words="board dressing", amount=Decimal("190"), kind="violin", who=book.owner)
    set_price(code="hair", words="bow hair", amount=Decimal("75"), kind="bow", who=book.owner)
    return book


def test_from_estimate_to_credit_note_by_touch(priced, tablet, come_in, picture, browser):
    come_in(priced.owner)
    tablet.goto(f"{tablet.base}/visit/{priced.visit.pk}/money")
    tablet.locator("label[data-takes]", has_text="board dressing").tap()
    tablet.locator("label[data-takes]", has_text="bow hair").tap()
    picture("money-new")
    tablet.get_by_role("button", name="Keep the estimate").tap()
    tablet.get_by_role("button", name="It was told to the player").tap()
    tablet.get_by_role("button", name="A private link").tap()
    address = re.sub(r"^https?://[^/]+", tablet.base, tablet.get_by_label("Private link").input_value())

    away = browser.new_context(viewport={"width": 1024, "height": 768}, has_touch=True)
    stranger = away.new_page()
    stranger.goto(address)
    assert "Aschenbrand" not in stranger.content()
    stranger.get_by_label("bow hair").uncheck()
    stranger.get_by_label("Your name").fill("M. A.")
    stranger.get_by_role("button", name="Yes to the marked lines").tap()
    stranger.wait_for_url(address)
    stranger.locator("text=✓").first.wait_for()
    assert stranger.locator("text=✓").count() == 1
    away.close()

    tablet.reload()
    tablet.locator("summary", has_text="Found while working").tap()
    tablet.locator("#found-words").fill("hidden crack glued")
    tablet.locator("#found-amount").fill("90")
    tablet.get_by_role("button", name="Ask for it").tap()
    tablet.locator("tr.found").first.wait_for()
    picture("money-found")
    tablet.get_by_role("button", name="Issue the invoice").tap()
    tablet.get_by_role("button", name="Take back by a credit note").wait_for()
    assert priced.visit.issued.get().due == 190  # the crack has no yes: it is not on the invoice
    tablet.get_by_role("button", name="Take back by a credit note").tap()
    tablet.locator("li", has_text="credit note").first.wait_for()
    picture("money-credit-note")
    assert sum(p.due for p in priced.visit.issued.all()) == 0
