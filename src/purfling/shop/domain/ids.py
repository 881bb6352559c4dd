"""Ids of new records: random, or from a seed while the invented shop is built."""

import contextlib
import random
import uuid
from collections.abc import Iterator

_dice: random.Random | None = None


def from_seed() -> uuid.UUID | None:
    """The next id of the seed that is held; None where none is, and the record keeps its own."""
    return None if _dice is None else uuid.UUID(int=_dice.getrandbits(128), version=4)


@contextlib.contextmanager
def seeded(seed: str) -> Iterator[None]:
    """Ids from a seed for a while."""
    global _dice  # noqa: PLW0603
    before, _dice = _dice, random.Random(seed)
    try:
        yield
    finally:
        _dice = before
