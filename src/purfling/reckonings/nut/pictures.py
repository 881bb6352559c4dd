"""The nut's strip at 1:1."""

from purfling.drawing.drawings.nut_strip import NutMarks, nut_strip
from purfling.drawing.shapes import Drawing
from purfling.reckonings.nut.compute import NutCase


def strip(case: NutCase, language: str = "en", print_scale: float | None = None) -> Drawing:
    """The sheet of the strip, with the printer's correction."""
    marks = NutMarks(
        names=[s.name for s in case.strings],
        centres_mm=[g.centres_mm for g in case.grooves],
        gaps_mm=[g.gaps_mm for g in case.grooves],
        diameter_mm=[s.diameter_mm for s in case.strings],
        chosen=case.chosen,
        width_mm=case.width_mm,
    )
    return nut_strip(marks, language, print_scale)
