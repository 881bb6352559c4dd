"""A reckoned bow -> the bow sheet."""

from typing import Any

from purfling.craft.bow.survey import species
from purfling.drawing.shapes import Drawing
from purfling.papers.common import frame, from_answer
from purfling.papers.typeset import typeset
from purfling.reckonings.bow.compute import BowCase
from purfling.reckonings.bow.pictures import camber, reach, side
from purfling.reckonings.bow.sentences import change_sentence, rows_of
from purfling.reckonings.lapping.compute import compute as compute_lapping
from purfling.words import decimal, say

BY_HAND = ("failure", "leather", "plate", "eyelet", "wedges", "hair", "species", "notes")
WORDS = ("hand", "sign", "estimate", "defaults", "words", "cautions", "sources", "materials")


def _columns(sections: list[tuple[str, list[list[str]]]]) -> list[list[dict[str, Any]]]:
    """The sections in their order over two columns, the first as long as half of all or a little longer."""
    heading = 2.5  # rows that a heading takes
    whole = sum(len(rows) + heading for _, rows in sections)
    columns: list[list[dict[str, Any]]] = [[], []]
    used = 0.0
    for head, rows in sections:
        columns[0 if used < whole / 2 - 1 else 1].append({"head": head, "rows": rows})
        used += len(rows) + heading
    return columns


def _lapping(case: BowCase, language: str) -> list[tuple[str, list[list[str]]]]:
    """What is wound, where the slip has a whole [lapping]."""
    if not (case.slip.has("lapping") and case.slip.table("lapping").has("handle_mm")):
        return []
    wound = compute_lapping(case.slip)
    r, made = wound.answer.results, wound.winding

    def row(code: str, value: float, decimals: int, unit: str) -> list[str]:
        return [say(code, language), decimal(value, decimals, language), unit]

    rows = [
        [say("bow.row_material", language), say(f"lapping.material_{made.material.key}", language), ""],
        row("bow.row_wire", made.lapping.wire_mm, 2, "mm"),
        row("bow.row_length", made.lapping.length_mm, 1, "mm"),
        row("lapping.row_turns", r["turns"], 1, ""),
        row("lapping.row_cut", r["wire_to_cut_mm"] / 1000.0, 2, "m"),
        row("lapping.row_mass", r["mass_g"], 2, "g"),
        row("lapping.row_underlay", r["underlay_mm"], 2, "mm"),
    ]
    return [(say("bow.head_lapping", language), rows)]


def _materials(case: BowCase, language: str) -> list[str]:
    """Stick, frog and hair by name; a protected species with its rule and the rule's date."""
    slip = case.slip
    named = [
        (say("bow.head_stick", language), slip.table("stick_wood").text("species")),
        (say("bow.wedge_frog", language), slip.table("bow").text("frog_material")),
        (say("bow.head_hair", language), slip.table("hair").text("origin")),
    ]
    found = []
    for part, name in named:
        if not name:
            continue
        known = species().get(name.strip().lower().replace(" ", "_"))
        line = f"{part}: {name}"
        if known is not None:
            rule = say(f"bow.rule_{known.key}", language)
            day = say("bow.rule_date", language, date=known.rule_date)
            line += f" ({known.latin}). {rule} {day}"
        found.append(line)
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
    subject = f"{say('bow.sheet_title', language)} {label}".strip()
    data = frame(say("bow.sheet_title", language), subject, language, ())
    data["words"] |= {name: say(f"bow.sheet_{name}", language) for name in WORDS}
    data |= from_answer(case.answer, language)
    data |= {
        "paper": paper,
        "label": label,
        "state": said,
        "columns": _columns([*rows_of(case, language), *_lapping(case, language)]),
        "materials": _materials(case, language),
        "sentence": change_sentence(case, language) or "",
        "cautions": [say(code, language) for code in case.answer.results["cautions"]],
        "hand": [say(f"bow.sheet_{name}", language) for name in BY_HAND],
        "pictures": [name for name in ("camber", "reach") if name in drawings],
    }
    return data, drawings


def bow_sheet(case: BowCase, language: str = "en", paper: str = "a4") -> bytes:
    """PDF bytes of the bow sheet."""
    data, drawings = sheet_data(case, language, paper)
    return typeset("bow_sheet", data, drawings)
