"""The picture of the pegs: each in its hole, now and after the wear."""

from purfling.drawing.drawings.pegs import PegView, pegs_drawing
from purfling.drawing.svg import to_svg
from purfling.reckonings.pegs.compute import PegsCase
from purfling.reckonings.pegs.sentences import sentences


def files(case: PegsCase, language: str = "en") -> dict[str, bytes]:
    """File name -> bytes for ``-o DIR``."""
    views = [
        PegView(name, peg.diameter_mm, peg.standout_mm, worn.travel_mm, worn.wear_left_mm <= 0)
        for name, peg, worn in zip(case.names, case.pegs, case.worn, strict=True)
    ]
    drawing = pegs_drawing(views, case.taper, sentences(case, language), language)
    return {"pegs.svg": to_svg(drawing).encode("utf-8")}
