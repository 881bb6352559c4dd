"""The invented shop's terms and prices, and an estimate for a visit that is open today. All invented."""

import uuid
from collections.abc import Callable
from decimal import Decimal

from purfling.shop.domain.estimate import answer_estimate, give_estimate, make_estimate
from purfling.shop.domain.pricing import change_terms, set_price, the_terms
from purfling.shop.models import Maker, Visit

PRICES = (
    ("board", "board dressing", "190.00", "violin"),
    ("board", "board dressing", "210.00", "viola"),
    ("board", "board dressing", "290.00", "cello"),
    ("bridge", "new bridge", "180.00", "violin"),
    ("bridge", "new bridge", "320.00", "cello"),
    ("nut", "nut lowered", "35.00", "any"),
    ("pegs", "peg service, four pegs", "60.00", "any"),
    ("clean", "cleaning and polish", "85.00", "any"),
    ("post", "post adjusted", "40.00", "any"),
    ("hair", "bow hair", "75.00", "bow"),
    ("lapping", "silver lapping and leather", "95.00", "bow"),
)


def add_money(*, owner: Maker, visit: Visit, new_id: Callable[[], uuid.UUID]) -> None:
    """Terms, a price list, and one estimate that was given and answered by mouth."""
    change_terms(
        terms=the_terms(),
        who=owner,
        seller="Workshop at the weir",
        line_one="Weir Lane 2",
        postcode="00000",
        country="DE",
        tax_number="00/000/00000",
        hourly=Decimal("64.00"),
        iban="DE02120300000000202051",
    )
    for code, words, amount, kind in PRICES:
        set_price(code=code, words=words, amount=Decimal(amount), kind=kind, who=owner, id=new_id())
    lines = [
        {"key": "board", "words": "board dressing", "unit_price": "190.00"},
        {"key": "nut", "words": "nut lowered", "unit_price": "35.00"},
        {"key": "hair", "words": "bow hair", "unit_price": "75.00"},
    ]
    estimate = make_estimate(
        visit=visit,
        lines=lines,
        who=owner,
        id=new_id(),
        not_above=Decimal("320.00"),
        not_included="a new bridge, should the old one prove too low",
    )
    estimate = give_estimate(estimate=estimate, who=owner)
    answer_estimate(
        estimate=estimate,
        keys=["board", "nut"],
        yes=True,
        by="the player",
        how="phone",
        words="yes, please, before the rehearsal",
        who=owner,
        id=new_id(),
    )
