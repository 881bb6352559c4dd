"""The nut's strip -> SVG, DXF and a PDF: page 1 A4, page 2 Letter, both upright."""

from purfling.drawing.dxf import to_dxf
from purfling.drawing.shapes import Drawing, moved
from purfling.drawing.svg import to_svg
from purfling.papers.typeset import typeset

PAPERS = {"a4": (210.0, 297.0), "us-letter": (215.9, 279.4)}


def strip_files(sheet: Drawing, plain: Drawing, language: str) -> dict[str, bytes]:
    """File name -> bytes; ``sheet`` carries the printer's correction, ``plain`` (for the DXF) is 1:1."""
    pages: dict[str, Drawing] = {}
    for name, (width, height) in PAPERS.items():
        items = tuple(moved(i, 10.0, height - sheet.height - 10.0) for i in sheet.items)
        pages[name] = Drawing(width, height, items, sheet.title)
    data = {
        "title": sheet.title,
        "language": language,
        "foot": "",
        "words": {"page": "", "of": ""},
        "pages": list(pages),
    }
    return {
        "nut-strip.svg": to_svg(sheet).encode("utf-8"),
        "nut-strip.dxf": to_dxf(plain),
        "nut-strip.pdf": typeset("nut_strip", data, pages),
    }
