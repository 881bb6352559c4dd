"""The camber of a slip: as found, and beside it as wished or as left."""

from dataclasses import dataclass
from typing import Any

import numpy as np

from purfling.craft.bow.camber import Camber
from purfling.craft.result import Note
from purfling.slips.known import known_tables
from purfling.slips.reader import Slip
from purfling.slips.view import View


@dataclass
class Bends:
    """The ``camber`` of the answer: before, and after where [wish.camber] is given."""

    before: Camber
    after: Camber | None
    results: dict[str, Any]
    notes: list[Note]


def _camber(view: View) -> Camber:
    return Camber(tuple(view.need_numbers("at_mm")), tuple(view.need_numbers("height_mm")))


def _figures(camber: Camber) -> dict[str, Any]:
    place, depth = camber.deepest()
    span = camber.at_mm[-1] - camber.at_mm[0]
    return {
        "at_mm": list(camber.at_mm),
        "depth_mm": camber.depth_mm,
        "deepest_mm": depth,
        "deepest_at_mm": place,
        "deepest_share": (place - camber.at_mm[0]) / span,
    }


def bends_of(slip: Slip) -> Bends | None:
    """The camber, or None where the slip has none."""
    if not slip.has("camber"):
        return None
    before = _camber(slip.table("camber"))
    results = _figures(before)
    wish = slip.tables.get("wish", {}).get("camber")
    if wish is None:
        return Bends(before, None, results, [])
    after = _camber(View(known_tables()["camber"], wish, "wish.camber", slip.family))
    notes = []
    if abs(after.at_mm[0] - before.at_mm[0]) > 1.0 or abs(after.at_mm[-1] - before.at_mm[-1]) > 1.0:
        notes.append(Note("bow.camber_other_ends"))
    results["after"] = _figures(after)
    low, high = max(before.at_mm[0], after.at_mm[0]), min(before.at_mm[-1], after.at_mm[-1])
    inner = np.array([x for x in before.at_mm if low <= x <= high])
    results["change_at_mm"] = inner
    results["change_mm"] = after.depth_at(inner) - before.depth_at(inner)
    return Bends(before, after, results, notes)
