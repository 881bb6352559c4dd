"""Craft data of the bow bench: order of operations, frog materials, wedges, species and their rules."""

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Any, Literal


@dataclass(frozen=True)
class BowOperation:
    """A step of a bow's work: hands' ``minutes`` (least, most), what it comes ``after``, its wait, cautions.

    ``wait_min`` is the least wait afterwards [min], which ends when somebody looked; ``cautions`` are codes.
    """

    key: str
    minutes: tuple[int, int]
    after: tuple[str, ...]
    cautions: tuple[str, ...]
    wait_min: int = 0


@dataclass(frozen=True)
class FrogMaterial:
    """What a frog is made of and whether it may be warmed: ``heat`` never, or ask the owner first."""

    key: str
    heat: Literal["never", "ask"]


@dataclass(frozen=True)
class Species:
    """A protected species of bows: ``latin`` name, ``rule_date`` (ISO) of the text, source."""

    key: str
    latin: str
    rule_date: str
    source: str


@cache
def _table() -> dict[str, Any]:
    text = (resources.files("purfling.craft.tables") / "bow.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


def bow_default(key: str) -> float:
    """A bench default of bow.toml (source ``memory``)."""
    return float(_table()["bench"][key])


@cache
def operations() -> tuple[BowOperation, ...]:
    """The operations in their order."""
    return tuple(
        BowOperation(
            row["key"],
            (row["minutes"][0], row["minutes"][1]),
            tuple(row["after"]),
            tuple(f"bow.{c}" for c in row["cautions"]),
            row.get("wait_min", 0),
        )
        for row in _table()["operation"]
    )


@cache
def frog_materials() -> dict[str, FrogMaterial]:
    """Frog materials by key."""
    return {row["key"]: FrogMaterial(**row) for row in _table()["frog_material"]}


@cache
def species() -> dict[str, Species]:
    """Protected species by key."""
    return {row["key"]: Species(**row) for row in _table()["species"]}


def lapping_failures() -> tuple[str, ...]:
    """Why an old lapping failed: the words a survey may choose from."""
    return tuple(_table()["failures"]["lapping"])


def wedge_places() -> tuple[str, ...]:
    """Where a bow has wedges."""
    return tuple(_table()["wedges"]["places"])


def wedge_fits() -> tuple[str, ...]:
    """How a wedge was found."""
    return tuple(_table()["wedges"]["fits"])


def ordered(keys: set[str]) -> list[str]:
    """Some operations in the order in which they are done.

    Parameters
    ----------
    keys : set of str
        Keys of operations.

    Raises
    ------
    KeyError
        A key that is no operation.
    """
    known = [o.key for o in operations()]
    if unknown := keys - set(known):
        raise KeyError(", ".join(sorted(unknown)))
    return [k for k in known if k in keys]
