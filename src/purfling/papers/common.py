"""What every paper says about itself: title, foot, language, the words of its frame."""

from collections.abc import Sequence
from typing import Any

from purfling import __version__
from purfling.craft.result import Answer
from purfling.words import note_text, say
from purfling.words.envelope import default_dict, source_text


def frame(title: str, subject: str, language: str, words: Sequence[str]) -> dict[str, Any]:
    """Title, foot and the translated words a template asks for (codes of the catalogue "papers")."""
    said = {w: say(f"papers.{w}", language) for w in ("page", "of", *words)}
    foot = " · ".join(part for part in (subject, f"Purfling {__version__}") if part)
    return {"title": title, "foot": foot, "language": language, "words": said}


def from_answer(answer: Answer, language: str) -> dict[str, Any]:
    """Warnings, defaults and sources of an answer as a paper prints them."""
    return {
        "status": say(f"common.status_{answer.status}", language),
        "warnings": [note_text(n, language) for n in answer.warnings],
        "defaults": [_shown(default_dict(d, language), language) for d in answer.defaults],
        "sources": [source_text(k, language) for k in answer.sources],
    }


def _shown(row: dict[str, Any], language: str) -> dict[str, str]:
    value = row["value"]
    text = ", ".join(f"{v:g}" for v in value) if isinstance(value, list) else f"{value}"
    if language == "de" and not isinstance(value, str):
        text = text.replace(", ", "; ").replace(".", ",")
    return {"field": row["field"], "value": f"{text} {row['unit']}".strip(), "source": row["source"]}
