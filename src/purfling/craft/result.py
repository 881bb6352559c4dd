"""What every computation returns: values with a status, warnings, inputs, defaults and sources."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Literal

Status = Literal["ok", "estimate", "outside_validity", "infeasible"]

# From the mildest to the gravest: the status of a whole is the gravest of its parts.
GRAVITY: tuple[Status, ...] = ("ok", "estimate", "outside_validity", "infeasible")


@dataclass(frozen=True)
class Note:
    """A warning as code and parameters; the sentence is made in ``words``.

    ``code`` is ``subject.reason``, as for a refusal.
    """

    code: str
    params: Mapping[str, Any] = field(default_factory=dict)


@dataclass(frozen=True)
class Default:
    """A value that the slip left out and a table gave; ``source`` is a key of sources.toml."""

    field: str
    value: Any
    unit: str
    source: str


@dataclass(frozen=True)
class Answer:
    """The whole answer of a reckoning, ready for ``--json``, a page or a paper.

    ``results`` holds plain values only (numbers, strings, None, lists, dicts); keys carry their unit.
    ``sources`` are keys of sources.toml.
    """

    results: dict[str, Any]
    status: Status = "ok"
    warnings: tuple[Note, ...] = ()
    inputs: dict[str, Any] = field(default_factory=dict)
    defaults: tuple[Default, ...] = ()
    sources: tuple[str, ...] = ()


def gravest(*statuses: Status) -> Status:
    """The gravest of some statuses; ``ok`` for none."""
    return max(statuses, key=GRAVITY.index, default="ok")
