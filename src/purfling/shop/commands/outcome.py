"""What a command of the book hands back: the same shape as every other command's outcome."""

from collections.abc import Callable
from dataclasses import dataclass, field

from purfling.craft.result import Answer


@dataclass(frozen=True)
class Said:
    """An answer, its plain text by language, and files for ``-o DIR`` (name -> bytes)."""

    answer: Answer
    plain: Callable[[str], str]
    files: dict[str, bytes] = field(default_factory=dict)
