"""The one door to typst: a template beside the paper, plain data in, PDF bytes out, repeatable."""

import json
from functools import cache
from pathlib import Path
from typing import Any, Literal

from purfling.drawing.shapes import Drawing
from purfling.drawing.svg import to_svg

_FONTS = Path(__file__).parent / "fonts"
_HERE = Path(__file__).parent
PAPER_WIDTH = {"a4": 210.0, "us-letter": 215.9}


class PaperTrouble(RuntimeError):
    """A template that does not typeset, or that typst warns of: a mistake of the program."""


@cache
def _template(name: str) -> str:
    return (_HERE / name / "template.typ").read_text(encoding="utf-8")


@cache
def _frame() -> str:
    return (_HERE / "frame.typ").read_text(encoding="utf-8")


def typeset(
    paper: str,
    data: dict[str, Any],
    drawings: dict[str, Drawing] | None = None,
    standard: Literal["a-3b"] | None = None,
) -> bytes:
    """PDF of ``papers/<paper>/template.typ`` with ``data`` and named drawings at their true size.

    A drawing reaches the template as its SVG with its own width [mm]; the template must set it with
    ``figure-at-size`` of frame.typ, which refuses a drawing wider than the page (typst would shrink it).
    ``standard`` asks for a PDF standard by typst's name, e.g. "a-3b" for a paper that carries an attachment.
    """
    import typst

    shown = dict(data)
    shown["drawings"] = {
        name: {
            "svg": to_svg(d),
            "width": d.width,
            "height": d.height,
            "title": d.title,
        }
        for name, d in (drawings or {}).items()
    }
    inputs = {"data": json.dumps(shown, ensure_ascii=False)}
    text = _frame() + "\n" + _template(paper)
    pdf, warnings = typst.compile_with_warnings(  # type: ignore[misc]
        text.encode("utf-8"),
        root=str(_HERE),
        font_paths=[str(_FONTS)],
        ignore_system_fonts=True,
        sys_inputs=inputs,
        timestamp=0,
        pdf_standards=[standard] if standard else [],
    )
    if warnings:
        raise PaperTrouble("; ".join(str(getattr(w, "message", w)) for w in warnings))
    return bytes(pdf)
