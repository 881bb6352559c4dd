"""Found against wished: the change of every height, and what it comes from."""

from dataclasses import dataclass, fields, replace
from typing import Any

from purfling.craft.card import Card
from purfling.craft.setup import setup
from purfling.reckonings.setup.compute import Reckoned, check_one_state, reckon_card
from purfling.slips.reader import Slip
from purfling.words import decimal, say

CAUSES: dict[str, tuple[str, ...]] = {
    "clearance": ("end_clearance_mm", "end_datum", "end_direction"),
    "projection": ("projection_mm",),
    "nut": ("nut_clearance_mm", "nut_datum"),
    "board": ("radius_nut_mm", "radius_end_mm", "flat_low_mm"),
    "length": ("string_length_mm", "board_length_mm"),
}
WORTH_SAYING = 0.02  # mm at a notch
SHOWN = 0.05  # mm; what a figure with one decimal shows
TILTS = 0.15  # mm between the outer strings: said for both sides
EVEN = 0.06  # mm between the strings' changes: said as one figure


@dataclass(frozen=True)
class Cause:
    """One kind of changed reading: its name, its own change per string or alone [mm], what it does.

    ``reading_mm`` holds converted figures (underside, upright), so that a wished datum counts as what it
    does; ``most_mm`` is the greatest change of a notch that it makes alone.
    """

    name: str
    reading_mm: tuple[float, ...]
    most_mm: float


@dataclass(frozen=True)
class Comparison:
    """Found and wished set-ups with the differences (wished minus found, negative = lower)."""

    found: Reckoned
    wished: Reckoned
    notch_change_mm: tuple[float, ...]
    crown_change_mm: tuple[float, ...]
    centre_change_mm: float
    causes: tuple[Cause, ...]


def compare(slip: Slip) -> Comparison:
    """The two set-ups of a slip and their difference.

    Raises
    ------
    Refusal
        As the set-up; a wish with another number of strings or in another tension state.
    """
    check_one_state(slip)
    found = reckon_card(slip)
    wished = reckon_card(slip.wished()) if "wish" in slip.tables else found
    pairs = list(zip(found.setup.strings, wished.setup.strings, strict=True))
    return Comparison(
        found=found,
        wished=wished,
        notch_change_mm=tuple(w.notch_height_mm - f.notch_height_mm for f, w in pairs),
        crown_change_mm=tuple(w.crown_height_mm - f.crown_height_mm for f, w in pairs),
        centre_change_mm=wished.setup.centre_height_mm - found.setup.centre_height_mm,
        causes=tuple(_causes(found, wished)),
    )


def _causes(found: Reckoned, wished: Reckoned) -> list[Cause]:
    """What each kind of changed reading does alone to the notches, greatest first."""
    one, other = found.taken.card, wished.taken.card
    named = {name for group in CAUSES.values() for name in group}
    rest = tuple(f.name for f in fields(Card) if f.name not in named and f.name != "gauge")
    causes: list[Cause] = []
    for cause, names in (*CAUSES.items(), ("other", rest)):
        changed: dict[str, Any] = {
            n: getattr(other, n) for n in names if getattr(other, n) != getattr(one, n)
        }
        if not changed:
            continue
        moved = setup(replace(one, **changed)).strings
        most = max(
            abs(a.notch_height_mm - b.notch_height_mm)
            for a, b in zip(moved, found.setup.strings, strict=True)
        )
        causes.append(Cause(cause, _reading(cause, found, wished), most))
    return sorted(causes, key=lambda c: -c.most_mm)


def _reading(cause: str, found: Reckoned, wished: Reckoned) -> tuple[float, ...]:
    if cause == "projection":
        return (wished.taken.card.projection_mm - found.taken.card.projection_mm,)
    pairs = {
        "clearance": (found.setup.clearance_mm, wished.setup.clearance_mm),
        "nut": (found.setup.nut_clearance_mm, wished.setup.nut_clearance_mm),
    }
    if cause not in pairs:
        return ()
    return tuple(b - a for a, b in zip(*pairs[cause], strict=True))


def sentence(comparison: Comparison, language: str = "en") -> str:
    """The change in one sentence with its direction: "Bridge goes DOWN 0.6 mm ... because ..."."""
    changes = comparison.notch_change_mm
    if not comparison.causes:
        return say("setup.no_wish", language)
    worth = [c for c in comparison.causes if c.most_mm >= WORTH_SAYING]
    said = say("setup.and", language).join(_cause(c, comparison, language) for c in worth)
    because = say("setup.because", language, causes=said) if said else ""
    if all(abs(c) < SHOWN for c in changes):
        return say("setup.bridge_same", language, because=because)
    low, high, by = changes[0], changes[-1], comparison.centre_change_mm
    if low * high < 0 or abs(low - high) >= TILTS or abs(by) < SHOWN:
        names = [s.name for s in comparison.found.setup.strings]
        return say(
            "setup.bridge_tilts",
            language,
            low=_signed(low, language),
            low_name=names[0],
            high=_signed(high, language),
            high_name=names[-1],
            because=because,
        )
    way = "down" if by < 0 else "up"
    return say(f"setup.bridge_{way}", language, because=because, by=decimal(abs(by), 1, language))


def _signed(value: float, language: str) -> str:
    text = decimal(value, 1, language)
    return text if text.startswith("-") or float(f"{value:.1f}") == 0 else "+" + text


def _cause(cause: Cause, comparison: Comparison, language: str) -> str:
    if cause.name not in ("clearance", "projection", "nut"):
        return say(f"setup.cause_{cause.name}", language)
    decimals = 2 if cause.name == "nut" else 1
    low, high = cause.reading_mm[0], cause.reading_mm[-1]
    if max(cause.reading_mm) - min(cause.reading_mm) >= EVEN:
        names = [s.name for s in comparison.found.setup.strings]
        return say(
            f"setup.cause_{cause.name}_uneven",
            language,
            low=decimal(low, decimals, language),
            low_name=names[0],
            high=decimal(high, decimals, language),
            high_name=names[-1],
        )
    mean = sum(cause.reading_mm) / len(cause.reading_mm)
    way = "down" if mean < 0 else "up"
    return say(f"setup.cause_{cause.name}_{way}", language, by=decimal(abs(mean), decimals, language))
