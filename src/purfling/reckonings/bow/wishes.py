"""The inverse: [wish.bow] mass and balance, and the lappings that come nearest."""

from dataclasses import dataclass, field
from typing import Any, cast

from purfling.craft.bow.balance import Datum, WholeBow, without
from purfling.craft.bow.lapping import Handle
from purfling.craft.bow.reach import Bounds, Reached, Wish, region, search
from purfling.craft.bow.stick import Stick
from purfling.craft.bow.survey import bow_default
from purfling.craft.bow.wire import Material, material, materials
from purfling.craft.quantities import readings
from purfling.craft.result import Default, Note, Status
from purfling.reckonings.bow.changes import handle_under
from purfling.reckonings.bow.weighed import Weighed, datums_of, old_lapping
from purfling.slips.known import known_tables
from purfling.slips.reader import Slip
from purfling.slips.view import View

SOLID_FORMS = ("wire",)


@dataclass
class Wished:
    """The ``wish`` of the answer, and what its drawing needs."""

    results: dict[str, Any]
    wish: Wish
    found: list[Reached]
    regions: dict[str, list[tuple[float, float]]]
    notes: list[Note] = field(default_factory=list)
    defaults: list[Default] = field(default_factory=list)
    status: Status = "ok"


def _wish_view(slip: Slip, name: str) -> View:
    data = slip.tables.get("wish", {}).get(name, {})
    return View(known_tables()[name], data, f"wish.{name}", slip.family)


def wished_for(slip: Slip) -> bool:
    """Whether the slip wishes another weight or balance."""
    wish = slip.tables.get("wish", {}).get("bow", {})
    return "mass_g" in wish or "balance_mm" in wish


def _wish(slip: Slip, weighed: Weighed) -> Wish:
    view = _wish_view(slip, "bow")
    balance = view.number("balance_mm")
    at = None
    if balance is not None:
        datum = cast(Datum, view.choice("datum") or slip.table("bow").need_choice("datum"))
        at = datums_of(slip.table("bow")).from_stick_end(balance, datum)
        if at is None:
            key = "button_length_mm" if datum == "button" else "frog_length_mm"
            raise slip.table("bow").missing(key)
    return Wish(view.number("mass_g"), at)


def _choices(slip: Slip) -> list[Material]:
    """The metals of the table, or the one material that the wish names."""
    name = _wish_view(slip, "lapping").text("material")
    if name is not None:
        return [material(name)]
    return [m for m in materials().values() if m.form in SOLID_FORMS]


def _start(slip: Slip, length: float) -> float:
    """Start of the new lapping [mm]: the wish's, the card's, or that of the old lapping."""
    for view in (_wish_view(slip, "lapping"), slip.table("lapping")):
        start = view.number("from_mm")
        if start is not None:
            return start
    for row in slip.rows("change"):
        start = row.number("from_mm")
        if start is not None:
            return start
    old = old_lapping(slip)
    if old is None:
        raise _wish_view(slip, "lapping").missing("from_mm")
    return old.at_mm - (old.length_mm or length) / 2.0


def _row(one: Reached, weighed: Weighed, datum: str) -> dict[str, Any]:
    return {
        "material": one.material.key,
        "wire_mm": one.wire_mm,
        "length_mm": one.length_mm,
        "turns": one.length_mm / one.wire_mm,
        "lapping_mass_g": one.mass_g,
        "mass_g": one.bow.mass_g,
        "balance_mm": weighed.datums.read_from(one.bow.at_mm)[datum],
        "miss_mass_g": one.miss_g,
        "miss_balance_mm": one.miss_mm,
    }


def wished_of(slip: Slip, weighed: Weighed, stick: Stick | None) -> Wished:
    """Which wire and length reach the wished weight and balance.

    Raises
    ------
    Refusal
        No start for the new lapping.
    """
    notes: list[Note] = []
    defaults: list[Default] = []
    wish = _wish(slip, weighed)
    old = old_lapping(slip)
    bare: WholeBow = weighed.bow if old is None else without(weighed.bow, old)
    if old is None:
        notes.append(Note("bow.no_old_lapping"))
    bounds = Bounds(
        (bow_default("wire_least_mm"), bow_default("wire_most_mm")),
        (bow_default("length_least_mm"), bow_default("length_most_mm")),
    )
    defaults.append(Default("wish: wire_mm", list(bounds.wire_mm), "mm", "memory"))
    defaults.append(Default("wish: length_mm", list(bounds.length_mm), "mm", "memory"))
    middle = sum(bounds.length_mm) / 2.0
    start = _start(slip, middle)
    own = _wish_view(slip, "lapping")
    handle: Handle = handle_under(slip, own, stick, (start, start + middle), defaults)
    choices = _choices(slip)
    found = search(bare, wish, handle, start, choices, bounds)
    datum = slip.table("bow").choice("datum") or "stick_end"
    near = found[0]
    reached = (
        abs(near.miss_g) <= readings()["bow.mass_g"].error
        and abs(near.miss_mm) <= readings()["bow.balance_mm"].error
    )
    if not reached:
        notes.append(Note("bow.out_of_reach", {"mass": near.miss_g, "balance": near.miss_mm}))
    regions = {m.key: region(bare, handle, start, m.density_kg_m3, bounds) for m in choices}
    masses = [m for outline in regions.values() for m, _ in outline]
    places = [weighed.datums.read_from(x)[datum] for outline in regions.values() for _, x in outline]
    known = [p for p in places if p is not None]
    results = {
        "mass_g": wish.mass_g,
        "balance_mm": None if wish.at_mm is None else weighed.datums.read_from(wish.at_mm)[datum],
        "datum": datum,
        "reached": reached,
        "found": _row(near, weighed, datum),
        "candidates": [_row(one, weighed, datum) for one in found],
        "reachable": {
            "mass_g": [min(masses), max(masses)],
            "balance_mm": [min(known), max(known)],
            "from_mm": start,
        },
    }
    return Wished(results, wish, found, regions, notes, defaults, "ok" if reached else "infeasible")
