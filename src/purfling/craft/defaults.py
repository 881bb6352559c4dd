"""What stands in for a reading that may be left out, by family, with its source."""

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Any

from purfling.craft.quantities import Family


@dataclass(frozen=True)
class TableValue:
    """A value of defaults.toml with unit and source key."""

    value: float
    unit: str
    source: str


@dataclass(frozen=True)
class StringDefault:
    """A string of the family's usual set."""

    name: str
    pitch_hz: float
    tension_n: float
    diameter_mm: float


@cache
def _table() -> dict[str, Any]:
    text = (resources.files("purfling.craft.tables") / "defaults.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


def default(family: Family, field: str) -> TableValue:
    """The default of ``table.key`` for a family; a field without one is a mistake of the program."""
    row = _table()[family][field]
    return TableValue(row["value"], row["unit"], row["source"])


def default_strings(family: Family) -> tuple[StringDefault, ...]:
    """The family's usual four strings, lowest first."""
    return tuple(StringDefault(**row) for row in _table()[family]["strings"])
