"""The one-object form of an answer: what ``--json`` prints and what the book keeps."""

import json
import math
from datetime import date, datetime, time
from typing import Any

from purfling import __version__
from purfling.craft.result import Answer, Default
from purfling.craft.sources import source
from purfling.words import note_text, say

SIGNIFICANT = 6


def rounded(value: Any) -> Any:
    """A value with every float at 6 significant digits; NaN and infinity are a mistake of the program."""
    if isinstance(value, bool | int | str) or value is None:
        return value
    if isinstance(value, float):
        if not math.isfinite(value):
            raise ValueError("an answer holds NaN or infinity")
        number = float(f"{value:.{SIGNIFICANT}g}")
        return 0.0 if number == 0 else number
    if isinstance(value, dict):
        return {str(k): rounded(v) for k, v in value.items()}
    if isinstance(value, list | tuple):
        return [rounded(v) for v in value]
    if isinstance(value, datetime | date | time):
        return value.isoformat()
    if hasattr(value, "tolist"):
        return rounded(value.tolist())
    raise TypeError(f"{type(value).__name__} has no place in an answer")


def source_text(key: str, language: str = "en") -> str:
    """A source as a page prints it: citation, and how it is known where that matters."""
    one = source(key)
    if one.known == "memory" and key != "memory":
        return f"{one.text} ({say('common.from_memory', language)})"
    return one.text


def default_dict(default: Default, language: str = "en") -> dict[str, Any]:
    """One row of "defaults"."""
    return {
        "field": default.field,
        "value": rounded(default.value),
        "unit": default.unit,
        "source": source_text(default.source, language),
    }


def envelope(answer: Answer, language: str = "en") -> dict[str, Any]:
    """Answer -> {"status", "warnings", "inputs", "results", "defaults", "sources", "version"}."""
    return {
        "status": answer.status,
        "warnings": [{"code": n.code, "text": note_text(n, language)} for n in answer.warnings],
        "inputs": rounded(answer.inputs),
        "results": rounded(answer.results),
        "defaults": [default_dict(d, language) for d in answer.defaults],
        "sources": [source_text(k, language) for k in answer.sources],
        "version": __version__,
    }


def to_json(answer: Answer, language: str = "en") -> str:
    """The envelope as text, one final newline; same answer, same bytes."""
    return json.dumps(envelope(answer, language), ensure_ascii=False, indent=2, allow_nan=False) + "\n"
