"""A fingerprint of what a picture shows, by which a copy is recognised that is no longer the same file."""

from collections.abc import Sequence
from itertools import pairwise

ALIKE = (
    10  # of 64: fewer bits apart than this, two pictures show the same; measured in tests/craft/test_look.py
)


def look_of(rows: Sequence[Sequence[float]]) -> str:
    """The 64 bits of a picture shrunk to 8 rows of 9 grey values, as 16 hex digits.

    Parameters
    ----------
    rows : 8 rows of 9 grey values.

    Equation
    --------
    Bit (r, c) is 1 where the value at c is greater than that at c + 1: unchanged by exposure and contrast.
    """
    bits = 0
    for row in rows:
        for left, right in pairwise(row):
            bits = bits << 1 | (left > right)
    return f"{bits:016x}"


def look_distance(first: str, second: str) -> int:
    """How many of the 64 bits differ."""
    return (int(first, 16) ^ int(second, 16)).bit_count()
