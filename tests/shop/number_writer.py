"""A writer of the numbering test: a process of its own that issues deposits until it is told to stop or killed.

Run as ``python -m tests.shop.number_writer DATA_FOLDER VISIT_ID SECONDS``; prints each acknowledged number.
"""

import os
import sys
import time


def main() -> None:
    """Issue until the time is over."""
    folder, visit_id, seconds = sys.argv[1], sys.argv[2], float(sys.argv[3])
    os.environ["PURFLING_BOOK"] = folder
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "purfling.shop.settings")
    import django

    django.setup()
    from decimal import Decimal

    from purfling.shop.domain import issuing
    from purfling.shop.models import Maker, Visit

    visit = Visit.objects.get(pk=visit_id)
    who = Maker.objects.first()
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        paper = issuing.issue_deposit(visit=visit, amount=Decimal("10"), words="deposit", who=who)
        print(paper.number, flush=True)


if __name__ == "__main__":
    main()
