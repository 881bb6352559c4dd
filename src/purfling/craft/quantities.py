"""The readings: what is measured, with unit, step, gauge error, datum, usual and hard range."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Any, Literal

Family = Literal["violin", "viola", "cello"]
FAMILIES: tuple[Family, ...] = ("violin", "viola", "cello")
Band = tuple[float, float]

HARD_BELOW = 0.3  # of the usual low
HARD_ABOVE = 3.0  # of the usual high


@dataclass(frozen=True)
class Reading:
    """One row of readings.toml.

    ``usual`` maps a family to (low, high), or for rows with ``many`` to the bands of the lowest and
    the highest string or peg. ``cards`` names the kinds of card that ask for it.
    """

    key: str
    name: str
    unit: str
    step: float
    error: float
    datum: str
    cards: tuple[str, ...]
    usual: Mapping[str, tuple[Band, Band]]
    many: str | None
    hard_low: float | None
    hard_high: float | None
    source: str

    @property
    def decimals(self) -> int:
        """Decimals the gauge shows: 0.05 -> 2, 0.5 -> 1, 1 -> 0."""
        text = f"{self.step:g}"
        return len(text.split(".")[1]) if "." in text else 0

    def usual_band(self, family: str, place: float = 0.0) -> Band | None:
        """Usual (low, high) for a family; ``place`` 0 the lowest string, 1 the highest."""
        bands = self.usual.get(family)
        if bands is None:
            return None
        (a, b), (c, d) = bands
        return a + (c - a) * place, b + (d - b) * place

    def hard_band(self, family: str | None = None) -> Band:
        """Hard (low, high): outside it a refusal. Without a family the widest of all."""
        rows = [self.usual[family]] if family and family in self.usual else list(self.usual.values())
        lows = [band[0] for pair in rows for band in pair]
        highs = [band[1] for pair in rows for band in pair]
        low = self.hard_low if self.hard_low is not None else HARD_BELOW * min(lows)
        high = self.hard_high if self.hard_high is not None else HARD_ABOVE * max(highs)
        return low, high


def _usual(row: Mapping[str, Any]) -> dict[str, tuple[Band, Band]]:
    found: dict[str, tuple[Band, Band]] = {}
    for family in FAMILIES:
        if family not in row:
            continue
        band = row[family]
        pair = band if isinstance(band[0], list) else [band, band]
        found[family] = ((pair[0][0], pair[0][1]), (pair[1][0], pair[1][1]))
    return found


@cache
def readings() -> dict[str, Reading]:
    """Every reading by its slip key, in the order of the table."""
    text = (resources.files("purfling.craft.tables") / "readings.toml").read_text(encoding="utf-8")
    found: dict[str, Reading] = {}
    for row in tomllib.loads(text)["reading"]:
        found[row["key"]] = Reading(
            key=row["key"],
            name=row["name"],
            unit=row["unit"],
            step=row["step"],
            error=row["error"],
            datum=row["datum"],
            cards=tuple(row["cards"]),
            usual=_usual(row),
            many=row.get("many"),
            hard_low=row.get("hard_low"),
            hard_high=row.get("hard_high"),
            source=row["source"],
        )
    return found
