"""A bridge case -> the bridge sheet (PDF at 1:1) and its pictures."""

from typing import Any

from purfling.drawing.dxf import to_dxf
from purfling.drawing.shapes import Drawing
from purfling.drawing.svg import to_svg
from purfling.papers.typeset import typeset
from purfling.reckonings.bridge import pictures
from purfling.reckonings.bridge.compute import BridgeCase
from purfling.reckonings.bridge.sentences import (
    balance_rows,
    cut_head,
    cut_rows,
    lean_lines,
    measured_lines,
    mode_line,
    shown_defaults,
    title,
)
from purfling.slips.rings import rings_to_csv
from purfling.words import note_text, say
from purfling.words.envelope import source_text

HEADS = ("face", "modes", "cuts", "balance", "lean", "notes", "defaults", "sources", "measure")


def sheet_data(case: BridgeCase, language: str) -> dict[str, Any]:
    """The plain data of the template."""
    results, answer = case.answer.results, case.answer
    words = {key: say(f"bridge.sheet_{key}", language) for key in HEADS}
    words |= {"page": say("bridge.sheet_page", language), "of": say("bridge.sheet_of", language)}
    words |= {"meaning": say("bridge.cuts_meaning", language), "caution": say("bridge.caution", language)}
    status = f"{say('common.status', language)}: {say('common.status_' + answer.status, language)}"
    return {
        "title": say("bridge.sheet_title", language),
        "language": language,
        "subject": title(case, language),
        "foot": title(case, language),
        "words": words,
        "status": status,
        "balance": balance_rows(results, language),
        "cut_head": cut_head(language),
        "cuts": cut_rows(results, language),
        "frequencies": [*mode_line(results, language), *measured_lines(results, language)],
        "lean": lean_lines(results, language),
        "notes": [note_text(n, language) for n in answer.warnings],
        "defaults": shown_defaults(answer, language),
        "sources": [source_text(key, language) for key in answer.sources],
    }


def bridge_sheet(case: BridgeCase, language: str, drawings: dict[str, Drawing]) -> bytes:
    """PDF bytes of the sheet; the face is printed at exactly 1:1."""
    return typeset("bridge_sheet", sheet_data(case, language), drawings)


def bridge_files(case: BridgeCase, language: str) -> dict[str, bytes]:
    """File name -> bytes: the sheet, its pictures, and the rings as DXF and CSV (readable as rings_file)."""
    drawings = {"face": pictures.face(case, language), "modes": pictures.moving(case, language)}
    bars = pictures.bars(case, language)
    if bars is not None:
        drawings["cuts"] = bars
    files = {f"bridge-{name}.svg": to_svg(d).encode("utf-8") for name, d in drawings.items()}
    files["bridge-sheet.pdf"] = bridge_sheet(case, language, drawings)
    files["bridge-rings.csv"] = rings_to_csv(case.asked.question.rings).encode("utf-8")
    files["bridge-outline.dxf"] = to_dxf(pictures.outline(case))
    return files
