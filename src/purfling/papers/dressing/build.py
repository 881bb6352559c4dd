"""A dressing -> its sheets (PDF, SVG), its 1:1 templates (PDF, SVG, DXF) and its numbers."""

from typing import Any

from purfling.drawing.drawings.board_templates import with_bars
from purfling.drawing.dxf import to_dxf
from purfling.drawing.shapes import Drawing
from purfling.drawing.svg import to_svg
from purfling.papers.bow_strips.build import strip_pdf
from purfling.papers.common import from_answer
from purfling.papers.typeset import typeset
from purfling.reckonings.dressing.compute import DressingCase
from purfling.reckonings.dressing.order import planing_order
from purfling.reckonings.dressing.pictures import removal_drawing, section_drawing, template_drawings
from purfling.reckonings.dressing.sentences import blocked_rows, follows
from purfling.words import decimal, say
from purfling.words.envelope import to_json

WORDS = ("paper_what", "paper_order", "paper_warnings", "paper_sources")
HEADS = ("head_string", "head_scoop", "head_bridge", "head_margin", "head_blocked", "head_now", "head_needed")


def _data(case: DressingCase, language: str) -> dict[str, Any]:
    def s(code: str) -> str:
        return say(f"dressing.{code}", language)

    r = case.answer.results
    refer = case.plan is None
    rows: list[list[str]] = []
    if case.drawn:
        for i, name in enumerate(case.strings.names):
            shown = (("scoop_mm", 2), ("bridge_change_mm", 2), ("margin_ratio_after", 1))
            rows.append([name, *(decimal(r[key][i], n, language) for key, n in shown)])
    return {
        "title": s("paper_title"),
        "language": language,
        "foot": s("caution_short"),
        "words": {
            "page": s("paper_page"),
            "of": s("paper_of"),
            **{w: s(w) for w in (*WORDS, *HEADS)},
        },
        "caution": s("caution"),
        "lead": s("line_refer") if refer else s("line_blocked") if not case.drawn else "",
        "follows": follows(case, language) if case.drawn else [],
        "order": planing_order(case, language) if case.drawn else [],
        "rows": rows,
        "blocked": blocked_rows(case, language) if not refer and not case.drawn else [],
        **from_answer(case.answer, language),
    }


def dressing_files(
    case: DressingCase, language: str = "en", print_scale: float | None = None, paper: str = "a4"
) -> dict[str, bytes]:
    """File name -> bytes.

    Parameters
    ----------
    case : the dressing; without a plan only the sheet that says why.
    print_scale : the printer's correction of the 1:1 templates; None: "not calibrated" in large type.
    paper : a4 or us-letter, of the templates.
    """
    drawings: dict[str, Drawing] = {}
    files: dict[str, bytes] = {}
    if case.drawn:
        drawings = {"map": removal_drawing(case, language), "section": section_drawing(case, language)}
    files["dressing.pdf"] = typeset("dressing", _data(case, language), drawings)
    for name, drawing in drawings.items():
        files[f"dressing-{name}.svg"] = to_svg(drawing).encode("utf-8")
    if case.drawn:
        templates = template_drawings(case, language)
        files["dressing-templates.pdf"] = strip_pdf(list(templates.values()), language, print_scale, paper)
        loud = say("bow.strip_loud", language) if print_scale is None else ""
        for name, drawing in templates.items():
            sheet = with_bars(drawing, loud)
            files[f"{name}.svg"] = to_svg(sheet, scale=print_scale or 1.0).encode("utf-8")
            files[f"{name}.dxf"] = to_dxf(sheet)
    files["dressing.json"] = to_json(case.answer, language).encode("utf-8")
    return files
