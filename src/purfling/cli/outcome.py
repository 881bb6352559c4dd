"""What a command hands back to ``main``: nothing is printed or written before it is whole."""

from collections.abc import Callable
from dataclasses import dataclass, field

from purfling.craft.result import Answer


@dataclass(frozen=True)
class Outcome:
    """An answer, its plain text by language, and the files that ``-o DIR`` receives (name -> bytes)."""

    answer: Answer
    plain: Callable[[str], str]
    files: dict[str, bytes] = field(default_factory=dict)
