"""A process of the numbering test: prepares a book, or issues deposits until it is stopped or killed.

``python -m tests.shop.number_writer prepare FOLDER`` prints the visit's id;
``python -m tests.shop.number_writer write FOLDER VISIT SECONDS`` prints each acknowledged number.
"""

import os
import sys
import time
from decimal import Decimal


def prepare() -> None:
    """A book with one visit and the terms an invoice needs."""
    from types import SimpleNamespace

    from django.core.management import call_command

    call_command("migrate", verbosity=0)
    from purfling.shop.domain.player import add_player
    from purfling.shop.domain.shop import add_owner, change_shop, the_shop
    from purfling.shop.domain.visit import book_visit
    from tests.shop.money_book import set_terms

    change_shop(shop=the_shop(), who=None, name="Shop of the tests", town="Hollerau")
    owner = add_owner(name="Ilse", phrase="a phrase of willow")
    set_terms(SimpleNamespace(owner=owner))
    player = add_player(who=owner, name="Aschenbrand")
    print(book_visit(player=player, objects=[], who=owner).pk)


def write(visit_id: str, seconds: float) -> None:
    """Issue until the time is over."""
    from purfling.shop.domain.issuing import issue_deposit
    from purfling.shop.models import Maker, Visit

    visit = Visit.objects.get(pk=visit_id)
    who = Maker.objects.first()
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        paper = issue_deposit(visit=visit, amount=Decimal("10"), words="deposit", who=who)
        print(paper.number, flush=True)


def main() -> None:
    """Prepare or write."""
    os.environ["PURFLING_BOOK"] = sys.argv[2]
    os.environ["DJANGO_SETTINGS_MODULE"] = "purfling.shop.settings"
    import django

    django.setup()
    if sys.argv[1] == "prepare":
        prepare()
    else:
        write(sys.argv[3], float(sys.argv[4]))


if __name__ == "__main__":
    main()
