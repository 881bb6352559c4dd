"""Which usual cautions an operation calls for; the sentences stand in words/."""

import re
import tomllib
from collections.abc import Sequence
from functools import cache
from importlib import resources


@cache
def _table() -> dict[str, list[str]]:
    text = (resources.files("purfling.craft.tables") / "cautions.toml").read_text(encoding="utf-8")
    return {key: row["words"] for key, row in tomllib.loads(text).items()}


def caution_codes() -> tuple[str, ...]:
    """Every caution, in the order of the table."""
    return tuple(f"cautions.{key}" for key in _table())


def cautions_for(name: Sequence[str]) -> tuple[str, ...]:
    """Codes of the cautions that some operations call for, each once, in the order of the table.

    Parameters
    ----------
    name : the names of the operations as the maker wrote them.
    """
    text = " | ".join(name).lower()
    return tuple(
        f"cautions.{key}"
        for key, words in _table().items()
        if any(re.search(r"\b" + re.escape(w), text) for w in words)
    )


FORBIDDEN_ON_CONSERVE = ("polish", "abrasive", "spirit cloth", "rubbing down", "politur", "schleif")


def breaks_class(name: str, kind: str | None) -> bool:
    """Whether an operation breaks the object's class: on ``conserve`` no polish, abrasive or spirit cloth."""
    return kind == "conserve" and any(word in name.lower() for word in FORBIDDEN_ON_CONSERVE)
