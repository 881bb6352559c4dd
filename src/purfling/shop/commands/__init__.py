"""Commands that touch the book; they reach ``purfling`` by the entry points ``purfling.commands``."""

import os

import django  # without it the entry point does not load, and the command is refused in one sentence


def wake_book() -> None:
    """Set Django up for the book named by the environment."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "purfling.shop.settings")
    django.setup()
