"""The tray of an object, drawn as it lies: holes from the lowest string to the highest, the rest by place."""

from dataclasses import dataclass

from purfling.shop.domain.tray import BY_HOLE, hole_names, part_words
from purfling.shop.models import LoosePart, VisitObject
from purfling.shop.words import PART

BOW_PARTS = ("screw", "frog", "slide", "ferrule", "wedge", "other")
W = LoosePart.Went


@dataclass(frozen=True)
class Hole:
    """One hole of the tray: the string's name, and what of it lies there."""

    number: int
    name: str
    parts: list[LoosePart]


def tray_page(row: VisitObject) -> dict[str, object]:
    """Holes, loose parts, and where the others went; one query."""
    thing = row.object
    parts = list(LoosePart.objects.filter(visit_object=row))
    for part in parts:
        part.words = part_words(part, thing.family)
    inside = [p for p in parts if p.went == W.TRAY]
    names = hole_names(thing.family)
    choices = BOW_PARTS if thing.is_bow else [p for p in PART if p not in BOW_PARTS or p == "other"]
    return {
        "row": row,
        "holes": []
        if thing.is_bow
        else [Hole(n, name, [p for p in inside if p.hole == n]) for n, name in enumerate(names, 1)],
        "loose": [p for p in inside if not p.hole],
        "gone": [p for p in parts if p.went != W.TRAY],
        "single": [(p, PART[p]) for p in choices if p not in BY_HOLE],
        "by_hole": [] if thing.is_bow else [(p, PART[p]) for p in ("peg", "string")],
        "names": list(enumerate(names, 1)),
    }
