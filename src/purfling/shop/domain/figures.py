"""A typed figure: decimal comma and point, inches with fractions; never a thousands sign."""

import re
from collections.abc import Mapping
from dataclasses import dataclass

from purfling.craft.quantities import Reading, readings
from purfling.craft.refusals import Refusal
from purfling.words import say

MM_PER_INCH = 25.4  # exact: international inch of 1959
_NUMBER = re.compile(r"-?(\d{1,5}([.,]\d{0,4})?|[.,]\d{1,4})$")
_INCHES = re.compile(r"(-?)(?:(\d{1,2})[ +-])?(\d{1,3})/(\d{1,3})$")


@dataclass(frozen=True)
class Figure:
    """A value in the reading's unit; ``entered`` is what was typed where it was inches."""

    value: float
    entered: str = ""


def _plain(text: str) -> float | None:
    return float(text.replace(",", ".")) if _NUMBER.match(text) else None


def _inches(text: str) -> float | None:
    fraction = _INCHES.match(text)
    if fraction is None:
        return _plain(text)
    sign, whole, over, under = fraction.groups()
    if int(under) == 0:
        return None
    value = int(whole or 0) + int(over) / int(under)
    return -value if sign else value


def read_figure(text: str, reading: Reading, name: str) -> Figure:
    """A typed text as a value in the reading's unit.

    Parameters
    ----------
    text : str
        ``5.5``, ``5,5``, ``.35``, ``-1``, ``5/64 in``, ``1 1/8 in``, ``0.2 in``.
    reading : Reading
        Its unit decides whether inches make sense.
    name : str
        What the sentence of a refusal calls the figure.

    Raises
    ------
    Refusal
        Not a figure, or inches of something that is no length. One sign between digits is always the decimal
        sign: 1.500 is one and a half, and two signs are refused.
    """
    bare = " ".join(text.replace("\u2212", "-").split())
    low = bare.lower()
    for ending in ("inches", "inch", "in", '"', "\u2033"):
        if low.endswith(ending):
            value = _inches(bare[: -len(ending)].strip())
            if value is None or reading.unit != "mm":
                raise Refusal("book.not_a_figure", name=name, value=text[:40], unit=reading.unit or "1")
            return Figure(value * MM_PER_INCH, bare)
    if reading.unit and low.endswith(reading.unit.lower()):
        bare = bare[: -len(reading.unit)].strip()
    value = _plain(bare)
    if value is None:
        raise Refusal("book.not_a_figure", name=name, value=text[:40], unit=reading.unit or "1")
    return Figure(value)


def check_hard(value: float, reading: Reading, family: str, name: str) -> None:
    """Refuse a value outside the hard range of its family: a slip of the finger, never a measurement."""
    low, high = reading.hard_band(family)
    shown = {"name": name, "value": f"{value:g}", "unit": reading.unit}
    if value < low:
        raise Refusal("book.below_hard", limit=f"{low:g}", **shown)
    if value > high:
        raise Refusal("book.above_hard", limit=f"{high:g}", **shown)


def gauges_from(posted: Mapping[str, str], language: str) -> dict[str, float]:
    """The shop's gauge errors as typed, one box a reading; an empty box leaves the table's.

    Raises
    ------
    Refusal
        Not a figure, or not above zero.
    """
    found: dict[str, float] = {}
    for key, reading in readings().items():
        text = posted.get(key, "").strip()
        if not text:
            continue
        name = say(f"readings.{key.replace('.', '_')}", language[:2])
        value = read_figure(text, reading, name).value
        if value <= 0:
            raise Refusal("book.below_hard", name=name, value=f"{value:g}", unit=reading.unit, limit="0")
        found[key] = value
    return found
