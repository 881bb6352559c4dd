"""The reckoning of a lapping: from a slip to turns, wire, mass, underlay and shift."""

from dataclasses import dataclass
from typing import Any

from purfling.craft.bow.balance import WholeBow, without
from purfling.craft.bow.lapping import balance_shift_mm, underlay_sheets
from purfling.craft.bow.wire import bench_default
from purfling.craft.result import Answer, Default, Note
from purfling.reckonings.bow.weighed import old_lapping, whole_bow
from purfling.reckonings.lapping.winding import Winding, handle_of, winding
from purfling.slips.reader import Slip
from purfling.slips.view import View

CAUTIONS = ("bow.caution_dust", "bow.caution_solder", "bow.caution_roll", "bow.caution_labels")
MASS_AGREES = 0.05  # share by which a weighed lapping may differ from the reckoned one before a word is said


@dataclass(frozen=True)
class LappingCase:
    """A reckoned lapping with what its drawing needs; ``from_mm`` from the stick's end, or None."""

    answer: Answer
    winding: Winding
    from_mm: float | None
    view: View


def _bench_value(view: View, key: str, defaults: list[Default]) -> float:
    given = view.number(key)
    if given is not None:
        return given
    value = bench_default(key)
    defaults.append(Default(view.path(key), value, "mm", "practice"))
    return value


def _shift(
    slip: Slip, mass_g: float, at_mm: float | None, notes: list[Note]
) -> tuple[float | None, WholeBow | None]:
    """Shift of the balance against the bow without a lapping [mm], and that bow."""
    if not slip.has("bow") or slip.table("bow").number("balance_mm") is None:
        return None, None
    weighed = whole_bow(slip)
    if weighed is None:
        return None, None
    bow = weighed.bow
    old = old_lapping(slip)
    if old is not None:
        bow = without(bow, old)
        notes.append(Note("lapping.old_taken_off", {"mass": old.mass_g}))
    if at_mm is None:
        notes.append(Note("lapping.no_place"))
        return None, bow
    return balance_shift_mm(mass_g, at_mm, bow.mass_g, bow.at_mm), bow


def _inputs(wound: Winding, tails: float, sheet: float, start: float | None) -> dict[str, Any]:
    lapping = wound.lapping
    return {
        "wire_diameter_mm": lapping.wire_mm,
        "width_mm": lapping.width_mm,
        "length_mm": lapping.length_mm,
        "handle_mm": lapping.handle.diameter_mm,
        "handle_end_mm": lapping.handle.end_mm,
        "octagonal": lapping.handle.octagonal,
        "material": wound.material.key,
        "density_kg_m3": lapping.density_kg_m3,
        "tails_mm": tails,
        "sheet_mm": sheet,
        "from_mm": start,
    }


def compute(slip: Slip) -> LappingCase:
    """Reckon the [lapping] of a slip; a [bow] in it adds the shift of the balance.

    Raises
    ------
    Refusal
        No wire, length or handle; a gauge number; an unknown material; a bow without datum or hair state.
    """
    view = slip.table("lapping")
    handle = handle_of(view)
    if handle is None:
        raise view.missing("handle_mm")
    wound = winding(view, handle)
    lapping = wound.lapping
    notes, defaults = list(wound.notes), list(wound.defaults)
    tails = _bench_value(view, "tails_mm", defaults)
    sheet = _bench_value(view, "sheet_mm", defaults)
    weighed = view.number("mass_g")
    mass = wound.mass_g if weighed is None else weighed
    if weighed is not None and abs(weighed / wound.mass_g - 1.0) > MASS_AGREES:
        notes.append(Note("lapping.weighed_differs", {"weighed": weighed, "reckoned": wound.mass_g}))
    start = view.number("from_mm")
    at = None if start is None else start + lapping.length_mm / 2.0
    shift, bow = _shift(slip, mass, at, notes)
    sheets = underlay_sheets(lapping.wire_mm, sheet)
    results: dict[str, Any] = {
        "turns": lapping.turns,
        "wire_mm": lapping.wire_length_mm,
        "wire_to_cut_mm": lapping.wire_length_mm + tails,
        "mass_g": mass,
        "mass_error_g": wound.error_g,
        "underlay_mm": sheets * sheet,
        "underlay_sheets": sheets,
        "balance_shift_mm": shift,
        "girth_mm": handle.girth_mm,
        "mass_of_wire_cut_g": wound.mass_g * (1.0 + tails / lapping.wire_length_mm),
        "cautions": list(CAUTIONS),
    }
    if weighed is not None:
        results["reckoned_mass_g"] = wound.mass_g
    if bow is not None:
        results["bow_without_mass_g"] = bow.mass_g
        results["centre_mm"] = at
    answer = Answer(
        results,
        wound.status if weighed is None else "ok",
        tuple(notes),
        _inputs(wound, tails, sheet, start),
        tuple(defaults),
        (*wound.sources, "lever", "lapping_note2018"),
    )
    return LappingCase(answer, wound, start, view)
