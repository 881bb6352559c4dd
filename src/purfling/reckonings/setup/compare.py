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
WORTH_SAYING = 0.02  # mm at the bridge's centre


@dataclass(frozen=True)
class Cause:
    """One kind of changed reading: its name, its own mean change [mm] and what it does to the centre [mm]."""

    name: str
    reading_mm: float
    centre_mm: float


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
        causes=tuple(_causes(found.taken.card, wished.taken.card)),
    )


def _causes(found: Card, wished: Card) -> list[Cause]:
    """What each kind of changed reading does alone to the centre of the bridge, greatest first."""
    base = setup(found).centre_height_mm
    causes: list[Cause] = []
    named = {name for group in CAUSES.values() for name in group}
    rest = tuple(f.name for f in fields(Card) if f.name not in named and f.name != "gauge")
    for cause, names in (*CAUSES.items(), ("other", rest)):
        changed = {n: getattr(wished, n) for n in names if getattr(wished, n) != getattr(found, n)}
        if not changed:
            continue
        moved: dict[str, Any] = changed
        effect = setup(replace(found, **moved)).centre_height_mm - base
        causes.append(Cause(cause, _mean_change(found, wished, names[0]), effect))
    return sorted(causes, key=lambda c: -abs(c.centre_mm))


def _mean_change(found: Card, wished: Card, name: str) -> float:
    one, other = getattr(found, name), getattr(wished, name)
    if isinstance(one, tuple) and isinstance(other, tuple) and isinstance(one[0], float):
        return float(sum(b - a for a, b in zip(one, other, strict=True)) / len(one))
    if isinstance(one, float) and isinstance(other, float):
        return other - one
    return 0.0


def sentence(comparison: Comparison, language: str = "en") -> str:
    """The change in one sentence with its direction: "Bridge goes DOWN 0.6 mm ... because ..."."""
    by = comparison.centre_change_mm
    worth = [c for c in comparison.causes if abs(c.centre_mm) >= WORTH_SAYING]
    if not worth and abs(by) < WORTH_SAYING:
        return (
            say("setup.no_wish", language) if not comparison.causes else _sentence("same", by, "", language)
        )
    said = say("setup.and", language).join(_cause(c, language) for c in worth)
    because = say("setup.because", language, causes=said) if said else ""
    way = "same" if abs(by) < WORTH_SAYING else ("down" if by < 0 else "up")
    return _sentence(way, by, because, language)


def _sentence(way: str, by: float, because: str, language: str) -> str:
    shown = {} if way == "same" else {"by": decimal(abs(by), 1, language)}
    return say(f"setup.bridge_{way}", language, because=because, **shown)


def _cause(cause: Cause, language: str) -> str:
    if cause.name in ("clearance", "projection", "nut"):
        way = "down" if cause.reading_mm < 0 else "up"
        by = decimal(abs(cause.reading_mm), 2 if cause.name == "nut" else 1, language)
        return say(f"setup.cause_{cause.name}_{way}", language, by=by)
    return say(f"setup.cause_{cause.name}", language)
