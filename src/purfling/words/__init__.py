"""Codes to sentences in the user's language.

A code is ``subject.reason``; the sentence stands in ``locale/<language>/LC_MESSAGES/<subject>.po``
under ``reason``. Placeholders are those of ``str.format``; numbers follow the language's decimal sign.
"""

import gettext
import string
from functools import cache
from pathlib import Path
from typing import Any

from purfling.craft.refusals import Refusal
from purfling.craft.result import Note

LANGUAGES = ("en", "de")
_LOCALE = Path(__file__).parent / "locale"


class UnknownCode(KeyError):
    """A code that no catalogue knows: a mistake of the program."""


class _Sentence(string.Formatter):
    """str.format with the language's decimal sign in formatted numbers."""

    def __init__(self, language: str) -> None:
        self.language = language

    def format_field(self, value: Any, format_spec: str) -> str:
        if isinstance(value, float) and not format_spec:
            format_spec = ".6g"
        text: str = format(value, format_spec)
        if self.language == "de" and isinstance(value, float):
            text = text.replace(".", ",")
        return text


class _Missing(gettext.NullTranslations):
    """Stands behind every catalogue: a code that falls through to it is unknown."""

    def gettext(self, message: str) -> str:
        raise UnknownCode(message)


@cache
def _catalogue(subject: str, language: str) -> gettext.NullTranslations:
    found = gettext.translation(subject, str(_LOCALE), languages=[language])
    found.add_fallback(_Missing())
    return found


def say(code: str, language: str = "en", /, **params: Any) -> str:
    """The sentence of a code.

    Raises
    ------
    UnknownCode
        No catalogue has it.
    """
    subject, _, reason = code.partition(".")
    try:
        sentence = _catalogue(subject, language).gettext(reason)
    except (FileNotFoundError, UnknownCode) as missing:
        raise UnknownCode(code) from missing
    return _Sentence(language).format(sentence, **params)


def note_text(note: Note, language: str = "en") -> str:
    """The sentence of a warning."""
    return say(note.code, language, **note.params)


def refusal_text(refusal: Refusal, language: str = "en", limit: int = 300) -> str:
    """The sentence of a refusal, on one line and at most ``limit`` characters long."""
    text = " ".join(say(refusal.code, language, **refusal.params).split()).replace(" ;", ";")
    return text if len(text) <= limit else text[: limit - 3] + "..."


def decimal(value: float, decimals: int, language: str = "en") -> str:
    """A number with fixed decimals and the language's decimal sign."""
    text = f"{value:.{decimals}f}"
    if float(text) == 0.0:
        text = text.lstrip("-")
    return text.replace(".", ",") if language == "de" else text
