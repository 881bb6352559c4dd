"""A long drawing at 1:1 -> SVG, DXF and the pages of a PDF."""

from purfling.drawing.dxf import to_dxf
from purfling.drawing.shapes import Drawing
from purfling.drawing.strips import StripWords, pages
from purfling.drawing.svg import to_svg
from purfling.papers.typeset import typeset
from purfling.words import decimal, say


def strip_words(title: str, print_scale: float | None, language: str) -> StripWords:
    """The sentences of a strip page."""
    if print_scale is None:
        line = say("bow.strip_measure", language)
    else:
        line = say("bow.strip_scaled", language, scale=decimal(print_scale, 4, language))
    return StripWords(title, line, say("bow.strip_loud", language), say("bow.strip_joint", language))


def strip_pdf(strips: list[Drawing], language: str, print_scale: float | None, paper: str) -> bytes:
    """PDF bytes of some strips, each on pages of its own."""
    sheets: list[Drawing] = []
    for strip in strips:
        sheets += pages(strip, paper, strip_words(strip.title, print_scale, language), print_scale)
    names = [f"p{i}" for i in range(len(sheets))]
    data = {
        "title": say("bow.strips_title", language),
        "language": language,
        "foot": "",
        "words": {"page": "", "of": ""},
        "pages": names,
    }
    return typeset("bow_strips", data, dict(zip(names, sheets, strict=True)))


def strip_files(
    strips: dict[str, Drawing], language: str, print_scale: float | None, paper: str, pdf: str
) -> dict[str, bytes]:
    """File name -> bytes: SVG and DXF of each strip whole, and all of them on the pages of one PDF."""
    scale = 1.0 if print_scale is None else print_scale
    files: dict[str, bytes] = {}
    for name, strip in strips.items():
        files[f"{name}.svg"] = to_svg(strip, scale=scale).encode("utf-8")
        files[f"{name}.dxf"] = to_dxf(strip)
    files[pdf] = strip_pdf(list(strips.values()), language, print_scale, paper)
    return files
