"""The drawings of a bow: side view, camber, reach, and the strips at 1:1."""

import numpy as np

from purfling.craft.bow.camber import Camber
from purfling.craft.bow.stick import Stick, law_stick
from purfling.craft.bow.survey import bow_default
from purfling.craft.bow.taper import REACH_MM
from purfling.drawing.drawings.bow_camber import CamberCurve, camber_strip, overlay
from purfling.drawing.drawings.bow_reach import Reach, reach_view
from purfling.drawing.drawings.bow_side import BowShape, side_view
from purfling.drawing.shapes import Drawing
from purfling.reckonings.bow.compute import BowCase
from purfling.words import decimal, say

FROG_DRAWN_MM = 50.0  # where the slip tells no length, the drawing needs one
BUTTON_DRAWN_MM = 14.0


def _curve(camber: Camber) -> CamberCurve:
    places = np.linspace(camber.at_mm[0], camber.at_mm[-1], 141)
    curve = list(zip(places.tolist(), camber.depth_at(places).tolist(), strict=True))
    stations = list(zip(camber.at_mm, camber.depth_mm.tolist(), strict=True))
    return CamberCurve(curve, stations, camber.deepest())


def _lapping(case: BowCase) -> tuple[float, float] | None:
    """Where the lapping lies: the change's, the card's, or the old part's."""
    slip = case.slip
    for view in (*slip.rows("change"), slip.table("lapping")):
        start, length = view.number("from_mm"), view.number("length_mm")
        if start is not None and length is not None:
            return start, start + length
    for row in slip.rows("part"):
        at, long = row.number("at_mm"), row.number("length_mm")
        if (row.text("name") or "").strip().lower() == "lapping" and at is not None and long:
            return at - long / 2, at + long / 2
    return None


def _shape(case: BowCase) -> BowShape:
    view = case.slip.table("bow")
    length = view.number("stick_length_mm") or REACH_MM
    stick: Stick = law_stick(min(length, REACH_MM + 40)) if case.wood is None else case.wood.stick
    places = np.linspace(0.0, stick.end_mm, 121)
    diameters = stick.diameter(places)
    depth = np.zeros_like(places)
    if case.camber is not None:
        camber = case.camber.before
        depth = np.interp(places, places, camber.depth_at(np.clip(places, camber.at_mm[0], camber.at_mm[-1])))
    datum = view.choice("datum") or "stick_end"
    zero = None if case.weighed is None else case.weighed.datums.place_mm(datum)  # type: ignore[arg-type]
    return BowShape(
        outline=list(zip(places.tolist(), diameters.tolist(), depth.tolist(), strict=True)),
        frog_mm=view.number("frog_length_mm") or FROG_DRAWN_MM,
        button_mm=view.number("button_length_mm") or BUTTON_DRAWN_MM,
        frog_lever_mm=view.number("frog_lever_mm") or bow_default("frog_lever_mm"),
        head_lever_mm=view.number("head_lever_mm") or bow_default("head_lever_mm"),
        lapping=_lapping(case),
        found_mm=None if case.weighed is None else case.weighed.bow.at_mm,
        changed_mm=None if case.after is None else case.after.at_mm,
        datum_mm=0.0 if zero is None else zero,
        datum=datum,
    )


def side(case: BowCase, language: str = "en") -> Drawing:
    """The bow from the side, to scale."""
    return side_view(_shape(case), language)


def camber(case: BowCase, language: str = "en") -> Drawing | None:
    """The camber before and after, or None."""
    if case.camber is None:
        return None
    after = None if case.camber.after is None else _curve(case.camber.after)
    return overlay(_curve(case.camber.before), after, language)


def strip(case: BowCase, language: str = "en") -> Drawing | None:
    """The camber at 1:1, or None."""
    if case.camber is None:
        return None
    after = None if case.camber.after is None else _curve(case.camber.after)
    return camber_strip(_curve(case.camber.before), after, language)


def reach(case: BowCase, language: str = "en") -> Drawing | None:
    """The reachable region of the inverse, or None."""
    if case.wished is None or case.weighed is None:
        return None
    read = case.weighed.datums.read_from
    datum = case.wished.results["datum"]

    def at(place: float) -> float:
        found = read(place)[datum]
        return place if found is None else found

    near = case.wished.found[0]
    wish = case.wished.wish
    text = say(
        "bow.reach_nearest",
        language,
        material=say(f"lapping.material_{near.material.key}", language),
        wire=decimal(near.wire_mm, 2, language),
        length=decimal(near.length_mm, 0, language),
    )
    outlines = {
        say(f"lapping.material_{key}", language): [(m, at(x)) for m, x in outline]
        for key, outline in case.wished.regions.items()
    }
    return reach_view(
        Reach(
            outlines,
            (case.weighed.bow.mass_g, at(case.weighed.bow.at_mm)),
            (wish.mass_g, None if wish.at_mm is None else at(wish.at_mm)),
            (near.bow.mass_g, at(near.bow.at_mm)),
            text,
            datum,
        ),
        language,
    )
