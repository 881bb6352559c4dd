"""What a slip may hold: the shape of a key and of a table."""

import dataclasses
from dataclasses import dataclass
from typing import Literal

Kind = Literal[
    "number",  # a number
    "numbers",  # a list of numbers
    "band",  # [least, most]
    "grid",  # rows of numbers; nan allowed where the field says so
    "mixed",  # anything TOML holds; the command looks at it
    "text",
    "texts",
    "choice",
    "truth",
    "moment",  # local YYYY-MM-DDTHH:MM
]


@dataclass(frozen=True)
class Field:
    """One key of a table.

    ``low`` and ``high`` are hard limits (refused outside), in ``unit``; where a reading of the same
    name ``table.key`` exists its hard range holds unless they are given. ``above`` is an open lower limit.
    """

    key: str
    kind: Kind = "number"
    unit: str = ""
    choices: tuple[str, ...] = ()
    low: float | None = None
    high: float | None = None
    above: float | None = None
    nan: bool = False


@dataclass(frozen=True)
class Table:
    """One table of a slip: ``[name]``, or ``[[name]]`` when ``many``; ``wish``: may stand under [wish]."""

    name: str
    fields: tuple[Field, ...]
    many: bool = False
    wish: bool = False
    keys: frozenset[str] = dataclasses.field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "keys", frozenset(f.key for f in self.fields))

    def field(self, key: str) -> Field:
        """The field of a key; a key the table does not have is a mistake of the program."""
        for one in self.fields:
            if one.key == key:
                return one
        raise KeyError(f"{self.name}.{key}")
