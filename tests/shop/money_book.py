"""The small book with money in it: terms, prices, an estimate with its yes, a link, an invoice."""

from decimal import Decimal

from purfling.shop.domain.estimate import answer_estimate, give_estimate, make_estimate, make_link, token_of
from purfling.shop.domain.issuing import issue_invoice
from purfling.shop.domain.pricing import change_terms, set_price, the_terms

LINES = [
    {"key": "board", "words": "board dressing", "quantity": "1", "unit_price": "180.00"},
    {"key": "hair", "words": "bow hair", "quantity": "1", "unit_price": "75.00"},
    {"key": "plain", "words": "bridge, plain", "quantity": "1", "unit_price": "140.00", "group": "bridge"},
    {"key": "fine", "words": "bridge, old wood", "quantity": "1", "unit_price": "290.00", "group": "bridge"},
]


def set_terms(book, **values):
    """Terms an invoice needs."""
    terms = the_terms()
    given = {
        "seller": "Bench at the mill",
        "line_one": "Mill Lane 3",
        "postcode": "01234",
        "town": "Hollerau",
        "country": "DE",
        "tax_number": "12/345/67890",
        "vat_number": "DE123456789",
        "iban": "DE02120300000000202051",
    }
    return change_terms(terms=terms, who=book.owner, **{**given, **values})


def given_estimate(book, lines=LINES, **values):
    """An estimate that was told to the player."""
    return give_estimate(
        estimate=make_estimate(visit=book.visit, lines=lines, who=book.owner, **values), who=book.owner
    )


def say_yes(book, estimate, *keys):
    """A yes by mouth."""
    return answer_estimate(
        estimate=estimate, keys=keys, yes=True, by="Merle", how="mouth", words="go on", who=book.owner
    )


def with_money(book):
    """Add all of it to the small book."""
    set_terms(book)
    set_price(code="hair", words="bow hair", amount=Decimal("75"), who=book.owner, kind="bow", basis="fixed")
    book.estimate = given_estimate(book)
    say_yes(book, book.estimate, "board", "hair")
    book.link = make_link(estimate=book.estimate, who=book.owner)
    book.token = token_of(book.link)
    book.issued = issue_invoice(visit=book.visit, who=book.owner)
    return book
