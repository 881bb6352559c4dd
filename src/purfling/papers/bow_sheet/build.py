"""A reckoned bow -> the bow sheet."""

from typing import Any

from purfling.drawing.shapes import Drawing
from purfling.papers.typeset import typeset
from purfling.reckonings.bow.compute import BowCase
from purfling.reckonings.bow.pictures import camber, reach, side
from purfling.reckonings.bow.sentences import change_sentence, rows_of
from purfling.words import note_text, say
from purfling.words.envelope import default_dict

BY_HAND = ("failure", "leather", "plate", "eyelet", "wedges", "hair", "species", "notes")


def _defaults(case: BowCase, language: str) -> list[str]:
    found = []
    for one in case.answer.defaults:
        row = default_dict(one, language)
        value = row["value"]
        shown = " - ".join(f"{v:g}" for v in value) if isinstance(value, list) else f"{value}"
        found.append(f"{row['field']} = {shown} {row['unit']}".rstrip() + f" ({row['source']})")
    return found


def sheet_data(case: BowCase, language: str, paper: str) -> tuple[dict[str, Any], dict[str, Drawing]]:
    """What the template sets, and its drawings."""
    bow = case.slip.table("bow")
    instrument = case.slip.table("instrument")
    label = " ".join(t for t in (instrument.text("tag"), instrument.text("label")) if t)
    state, datum = bow.choice("hair"), bow.choice("datum")
    said = ""
    if case.weighed is not None and state is not None:
        said = say(
            "bow.sheet_state",
            language,
            state=say(f"bow.state_{state}", language),
            datum=say(f"bow.datum_{datum or 'stick_end'}", language),
        )
    drawings = {"side": side(case, language)}
    for name, drawing in (("camber", camber(case, language)), ("reach", reach(case, language))):
        if drawing is not None:
            drawings[name] = drawing
    data: dict[str, Any] = {
        "title": say("bow.sheet_title", language),
        "language": language,
        "paper": paper,
        "foot": f"{say('bow.sheet_foot', language)} {label}".strip(),
        "label": label,
        "state": said,
        "status": say("common.status_" + case.answer.status, language),
        "sections": [{"head": head, "rows": rows} for head, rows in rows_of(case, language)],
        "sentence": change_sentence(case, language) or "",
        "notes": [note_text(n, language) for n in case.answer.warnings],
        "cautions": [say(code, language) for code in case.answer.results["cautions"]],
        "defaults": _defaults(case, language),
        "hand": [say(f"bow.sheet_{name}", language) for name in BY_HAND],
        "pictures": [name for name in ("camber", "reach") if name in drawings],
        "words": {
            name: say(f"bow.sheet_{name}", language)
            for name in ("page", "of", "hand", "sign", "estimate", "defaults", "words", "cautions")
        },
    }
    return data, drawings


def bow_sheet(case: BowCase, language: str = "en", paper: str = "a4") -> bytes:
    """PDF bytes of the bow sheet."""
    data, drawings = sheet_data(case, language, paper)
    return typeset("bow_sheet", data, drawings)
