"""The drawing of a lapping: the 1:1 strip of the handle."""

from purfling.craft.bow.wire import bench_default
from purfling.drawing.drawings.handle_strip import HandlePlaces, handle_strip
from purfling.drawing.shapes import Drawing
from purfling.reckonings.lapping.compute import LappingCase
from purfling.slips.reader import Slip
from purfling.words import decimal, say


def places(slip: Slip, case: LappingCase, language: str = "en") -> HandlePlaces:
    """Where lapping, leather and hollow lie; the leather's end lies on the lapping's first turns."""
    view = case.view
    lapping = case.winding.lapping
    relative = case.from_mm is None
    start = 0.0 if case.from_mm is None else case.from_mm
    length = view.number("leather_length_mm")
    length = bench_default("leather_mm") if length is None else length
    leather = None if relative else view.number("leather_from_mm")
    if leather is None:
        leather = start + bench_default("leather_over_mm") - length
    hollow_long = view.number("hollow_length_mm")
    hollow_long = bench_default("hollow_mm") if hollow_long is None else hollow_long
    middle = None if relative else view.number("hollow_at_mm")
    if middle is None:
        middle = leather + hollow_long / 2.0
    front = slip.table("bow").number("frog_length_mm") if slip.has("bow") and not relative else None
    caption = say(
        "bow.strip_wound",
        language,
        material=say(f"lapping.material_{case.winding.material.key}", language),
        wire=decimal(lapping.wire_mm, 2, language),
        turns=decimal(lapping.turns, 1, language),
    )
    return HandlePlaces(
        lapping=(start, start + lapping.length_mm),
        leather=(leather, leather + length),
        hollow=(middle - hollow_long / 2.0, middle + hollow_long / 2.0),
        diameters=(lapping.handle.diameter_mm, lapping.handle.end_mm),
        height_mm=lapping.wire_mm,
        relative=relative,
        frog_front_mm=front,
        caption=caption,
    )


def strip(slip: Slip, case: LappingCase, language: str = "en") -> Drawing:
    """The handle at 1:1."""
    return handle_strip(places(slip, case, language), language)
