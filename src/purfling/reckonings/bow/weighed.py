"""The bow as weighed: mass and balance of the whole, from a balance edge or from two scales."""

from dataclasses import dataclass
from typing import Any, cast

from purfling.craft.bow.balance import Body, Datum, Datums, WholeBow, two_scales
from purfling.craft.quantities import readings
from purfling.craft.refusals import Refusal
from purfling.craft.result import Default, Note
from purfling.slips.reader import Slip
from purfling.slips.view import View

SCALES_AGREE_G = 0.3
SCALES_AGREE_MM = 2.0


@dataclass(frozen=True)
class Weighed:
    """A bow weighed whole: ``bow`` from the stick's end, its ``datums``, how it was found."""

    bow: WholeBow
    datums: Datums
    how: str
    notes: tuple[Note, ...]


def datums_of(view: View, defaults: list[Default] | None = None) -> Datums:
    """The datums of a [bow]; a ferrule place that is not given is taken at the frog's front, and said."""
    ahead = view.number("ferrule_ahead_mm")
    if ahead is None:
        ahead = 0.0
        if defaults is not None:
            defaults.append(Default(view.path("ferrule_ahead_mm"), 0.0, "mm", "practice"))
    return Datums(view.number("frog_length_mm"), view.number("button_length_mm"), ahead)


def _from_edge(view: View, datums: Datums) -> WholeBow | None:
    """Mass and balance as read on an edge; both or neither."""
    mass, balance = view.number("mass_g"), view.number("balance_mm")
    if balance is None:
        return None
    datum = cast(Datum, view.need_choice("datum"))
    view.need_choice("hair")
    if mass is None:
        raise view.missing("mass_g")
    at = datums.from_stick_end(balance, datum)
    if at is None:
        raise view.missing("button_length_mm" if datum == "button" else "frog_length_mm")
    return WholeBow(mass, at)


def _from_scales(view: View) -> WholeBow:
    near, far = view.need_number("near_g"), view.need_number("far_g")
    if near + far <= 0:
        raise Refusal("slips.not_above", field=view.path("far_g"), value="0", unit="g", limit="0")
    return two_scales(near, far, view.need_number("near_mm"), view.need_number("span_mm"))


def whole_bow(slip: Slip, defaults: list[Default] | None = None) -> Weighed | None:
    """The bow weighed whole, or None where the slip has neither a balance nor two scales.

    Raises
    ------
    Refusal
        A balance without its datum, without the hair's state, or without the length its datum needs.
    """
    view = slip.table("bow")
    datums = datums_of(view, defaults)
    edge = _from_edge(view, datums)
    if not slip.has("two_scales"):
        return None if edge is None else Weighed(edge, datums, "edge", ())
    view.need_choice("hair")
    scales = _from_scales(slip.table("two_scales"))
    if edge is None:
        return Weighed(scales, datums, "two_scales", ())
    notes: list[Note] = []
    apart = abs(edge.mass_g - scales.mass_g), abs(edge.at_mm - scales.at_mm)
    if apart[0] > SCALES_AGREE_G or apart[1] > SCALES_AGREE_MM:
        notes.append(Note("bow.scales_differ", {"mass": apart[0], "balance": apart[1]}))
    return Weighed(edge, datums, "edge", tuple(notes))


def parts_of(slip: Slip) -> list[Body]:
    """The [[part]] rows of a slip as bodies."""
    found = []
    for row in slip.rows("part"):
        length = row.number("length_mm") or 0.0
        found.append(Body(row.need_text("name"), row.need_number("mass_g"), row.need_number("at_mm"), length))
    return found


def old_part(slip: Slip, name: str) -> Body | None:
    """The first [[part]] of a name, or None; capitals and spaces do not matter."""
    for body in parts_of(slip):
        if body.name.strip().lower().replace(" ", "_") == name:
            return body
    return None


def old_lapping(slip: Slip) -> Body | None:
    """The lapping that the bow wears, where it stands among the parts."""
    return old_part(slip, "lapping")


def unusual(slip: Slip, bow: WholeBow, datums: Datums) -> list[Note]:
    """Warnings where mass or balance lie outside what is usual for the family."""
    family = slip.family
    if family is None:
        return []
    notes = []
    shown: list[tuple[str, Any, str]] = [
        ("bow.mass_g", bow.mass_g, "g"),
        ("bow.balance_mm", datums.read_from(bow.at_mm)["frog_front"], "mm"),
    ]
    for key, value, unit in shown:
        band = readings()[key].usual_band(family)
        if value is not None and band is not None and not band[0] <= value <= band[1]:
            notes.append(
                Note(
                    "bow.unusual",
                    {"field": key, "value": value, "unit": unit, "low": band[0], "high": band[1]},
                )
            )
    return notes
