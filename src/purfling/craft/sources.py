"""The table of sources: key -> citation and how it is known."""

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib import resources


@dataclass(frozen=True)
class Source:
    """A source as the table names it; ``known`` is read, second hand, derived, memory or practice."""

    key: str
    text: str
    known: str


@cache
def all_sources() -> dict[str, Source]:
    """Every source by its key."""
    text = (resources.files("purfling.craft.tables") / "sources.toml").read_text(encoding="utf-8")
    rows = tomllib.loads(text)
    return {key: Source(key, row["text"], row["known"]) for key, row in rows.items()}


def source(key: str) -> Source:
    """One source; a key that is not in the table is a mistake of the program (KeyError)."""
    return all_sources()[key]
