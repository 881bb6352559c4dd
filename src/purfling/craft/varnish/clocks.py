"""Drying clocks: how long coats really took, by finger, from the shop's own log."""

import math
import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Any

from purfling.craft.refusals import Refusal
from purfling.craft.result import Note, Status

LEAST = 5  # cases; fewer give no figure
MOST_SHARE = 0.8
HUMIDITY_BAND = 10.0  # percent either side counts as alike: common practice, no source
TEMPERATURE_BAND = 4.0  # degrees either side, likewise
COATS_APART = 3  # the third coat and later count as alike
BEARS = ("hands", "cloth", "chinrest", "case")
# What is let go first when there are too few alike; never the recipe, never the cabinet.
LET_GO = ("temperature", "humidity", "coat")


@dataclass(frozen=True)
class Dried:
    """One coat found dry: hours from the brush to the look, and how it was.

    ``coat`` is its number; ``cabinet`` whether it hung under the lamp.
    """

    hours: float
    recipe: str
    coat: int = 1
    humidity_percent: float | None = None
    temperature_c: float | None = None
    cabinet: bool = False


@dataclass(frozen=True)
class Clock:
    """What the log says: ``n`` cases, their median, the hour by which 8 of 10 were dry.

    The two figures are None below five cases. ``alike`` names what was alike in the cases used.
    """

    n: int
    median_hours: float | None
    most_hours: float | None
    alike: tuple[str, ...] = ()

    @property
    def status(self) -> Status:
        """``ok``, or ``estimate`` where there are too few."""
        return "ok" if self.median_hours is not None else "estimate"

    @property
    def warnings(self) -> tuple[Note, ...]:
        """``varnish.too_few`` where there are too few."""
        return (
            () if self.median_hours is not None else (Note("varnish.too_few", {"n": self.n, "least": LEAST}),)
        )


@dataclass(frozen=True)
class Stated:
    """A starting figure of the table: hours and the key of its source."""

    hours: float
    source: str


def clock(hours: Sequence[float], alike: tuple[str, ...] = ()) -> Clock:
    """Median and 80 % value of drying times.

    Parameters
    ----------
    hours : n times [h] from the brush until it was found dry, each above 0.

    Equation
    --------
    80 % value: the smallest logged time by which at least 8 of 10 cases were dry, x_(ceil(0.8 n)).

    Validity
    --------
    A time is when somebody looked, so it is at most too long. Fewer than five cases give no figure.
    """
    if any(not (math.isfinite(h) and h > 0) for h in hours):
        raise Refusal("varnish.hours_above_zero")
    n = len(hours)
    if n < LEAST:
        return Clock(n, None, None, alike)
    rows = sorted(hours)
    median = rows[n // 2] if n % 2 else (rows[n // 2 - 1] + rows[n // 2]) / 2
    return Clock(n, median, rows[math.ceil(MOST_SHARE * n - 1e-9) - 1], alike)


def _alike(one: Dried, other: Dried, what: str) -> bool:
    if what == "coat":
        return min(one.coat, COATS_APART) == min(other.coat, COATS_APART)
    name = {"humidity": "humidity_percent", "temperature": "temperature_c"}[what]
    mine, theirs = getattr(one, name), getattr(other, name)
    if mine is None:
        return True
    band = HUMIDITY_BAND if what == "humidity" else TEMPERATURE_BAND
    return theirs is not None and abs(mine - theirs) <= band


def clock_for(log: Sequence[Dried], now: Dried) -> Clock:
    """The clock of the cases that were most alike and are five at least.

    Parameters
    ----------
    log : coats found dry; now : the coat that is asked about (its ``hours`` are not used).

    Recipe and cabinet must be the same. Coat, humidity and temperature should be alike; where there are too
    few, temperature is let go first, then humidity, then the coat.
    """
    same = [d for d in log if d.recipe == now.recipe and d.cabinet == now.cabinet]
    for gone in range(len(LET_GO) + 1):
        kept = LET_GO[gone:]
        rows = [d.hours for d in same if all(_alike(now, d, what) for what in kept)]
        if len(rows) >= LEAST or gone == len(LET_GO):
            break
    return clock(rows, ("recipe", "cabinet", *reversed(kept)))


@cache
def _table() -> dict[str, Any]:
    text = (resources.files("purfling.craft.tables") / "drying.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


def recipe_kinds() -> tuple[str, ...]:
    """The kinds of recipe that have starting figures."""
    return tuple(_table())


def stated_hours(
    kind: str, bears: str, cabinet: bool = False, own: Mapping[str, float] | None = None
) -> Stated | None:
    """The stated time until a coat bears something: the shop's own, else the table's, else None.

    Parameters
    ----------
    kind : kind of recipe; bears : hands, cloth, chinrest or case; own : the recipe's own hours by ``bears``.
    """
    if own and own.get(bears):
        return Stated(float(own[bears]), "shop")
    row = _table().get(kind, {})
    found = (row.get("cabinet", {}).get(bears) if cabinet else None) or row.get(bears)
    return Stated(float(found["hours"]), found["source"]) if found else None
