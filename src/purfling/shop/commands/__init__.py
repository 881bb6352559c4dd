"""Commands that touch the book; they reach ``purfling`` by the entry points ``purfling.commands``."""

import os
from pathlib import Path

import django  # without it the entry point does not load, and the command is refused in one sentence


def wake_book() -> None:
    """Set Django up for the book named by the environment."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "purfling.shop.settings")
    django.setup()


def open_book(folder: str | None) -> None:
    """Wake the book in a folder (default book/shop) and bring its tables up to date.

    Raises
    ------
    Refusal
        There is no book in the folder: a command never makes one by mistake.
    """
    from purfling.craft.refusals import Refusal

    place = Path(folder or os.environ.get("PURFLING_BOOK") or "book/shop").resolve()
    if not os.environ.get("PURFLING_DATABASE_URL") and not (place / "book.sqlite3").exists():
        raise Refusal("book.no_book", path=str(place))
    os.environ["PURFLING_BOOK"] = str(place)
    wake_book()
    from django.core.management import call_command

    call_command("migrate", verbosity=0, interactive=False)
