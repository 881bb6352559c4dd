"""The book's clock: every verb asks it, so that a test or the demo can hold it still."""

import contextlib
from collections.abc import Iterator
from datetime import datetime

from django.utils import timezone

_held: datetime | None = None


def now() -> datetime:
    """This moment, or the moment the clock is held at."""
    return _held if _held is not None else timezone.now()


def hold(moment: datetime | None) -> None:
    """Hold the clock at a moment for the whole process; None lets it go."""
    global _held  # noqa: PLW0603
    if moment is not None and timezone.is_naive(moment):
        moment = timezone.make_aware(moment)
    _held = moment


@contextlib.contextmanager
def held(moment: datetime) -> Iterator[None]:
    """The clock held at a moment for a while."""
    before = _held
    hold(moment)
    try:
        yield
    finally:
        hold(before)
