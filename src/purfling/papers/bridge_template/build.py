"""Service -> bridge template: PDF (A4, then Letter), SVG and DXF at 1:1."""

from purfling.drawing.drawings.bridge_template import WORDS, bridge_template
from purfling.drawing.dxf import to_dxf
from purfling.drawing.shapes import Drawing, placed
from purfling.drawing.svg import to_svg
from purfling.papers.common import frame
from purfling.papers.typeset import typeset
from purfling.reckonings.service.compute import Service
from purfling.words import say


def _enlarged(drawing: Drawing, scale: float) -> Drawing:
    """The drawing with everything, pens and text too, ``scale`` times as large."""
    items = tuple(placed(i, 0.0, 0.0, scale) for i in drawing.items)
    return Drawing(drawing.width * scale, drawing.height * scale, items, drawing.title)


def template_files(service: Service, print_scale: float | None, language: str = "en") -> dict[str, bytes]:
    """The three files of the template.

    Parameters
    ----------
    service : the service; print_scale : the printer's correction (1.006 draws everything 1.006 times as
    large in the PDF and the SVG; the DXF is data for a machine and stays at 1:1), None: "not calibrated" in
    large type.
    """
    c = service.comparison
    words = {k: say(f"template.{k}", language) for k in WORDS}
    words["decimal"] = say("papers.decimal", language)

    def drawn(scale: float | None, said: dict[str, str]) -> Drawing:
        return bridge_template(
            c.wished.taken.card,
            c.found.setup,
            c.wished.setup,
            service.bedding_mm,
            c.found.taken.card.projection_mm,
            scale,
            said,
        )

    plain = drawn(print_scale, words)
    for_machine = drawn(1.0, {**words, "calibrated": say("template.machine", language)})
    scale = print_scale or 1.0
    subject = " · ".join(p for p in (service.tag, service.label) if p)
    data = {
        **frame(say("template.title", language), subject, language, ("template_how",)),
        "subject": subject,
        "calibrated": print_scale is not None,
    }
    pdf = typeset("bridge_template", data, {"template": _enlarged(plain, scale)})
    return {
        "bridge-template.pdf": pdf,
        "bridge-template.svg": to_svg(plain, scale=scale).encode("utf-8"),
        "bridge-template.dxf": to_dxf(for_machine),
    }
