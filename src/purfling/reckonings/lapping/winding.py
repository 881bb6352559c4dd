"""A lapping from a table of the slip: what ``purfling lapping`` and a change of ``purfling bow`` share."""

from dataclasses import dataclass

from purfling.craft.bow.lapping import Handle, Lapping, mass_error_g
from purfling.craft.bow.wire import Material, bench_default, checked_diameter, material
from purfling.craft.refusals import Refusal
from purfling.craft.result import Default, Note, Status, gravest
from purfling.slips.view import View

MATERIAL = "silver"
USUAL_LENGTH = (50.0, 110.0)
USUAL_WIRE = (0.18, 0.45)


@dataclass(frozen=True)
class Winding:
    """A lapping with what it weighs and how surely: ``mass_g`` and ``error_g`` [g]."""

    lapping: Lapping
    material: Material
    mass_g: float
    error_g: float
    status: Status
    notes: tuple[Note, ...]
    defaults: tuple[Default, ...]
    sources: tuple[str, ...]


def wire_diameter(view: View) -> float:
    """The wire of a table [mm]; a gauge number is refused."""
    raw = view.data.get("wire_mm")
    if raw is None:
        raise view.missing("wire_mm")
    if isinstance(raw, bool) or not isinstance(raw, int | float):
        raise Refusal("slips.not_a_number", field=view.path("wire_mm"), value=str(raw)[:40], unit="mm")
    return checked_diameter(float(raw), isinstance(raw, float), view.path("wire_mm"))


def handle_of(view: View) -> Handle | None:
    """The handle a table names, or None."""
    start = view.number("handle_mm")
    if start is None:
        if view.number("handle_end_mm") is not None:
            raise view.missing("handle_mm")
        return None
    end = view.number("handle_end_mm")
    return Handle(start, start if end is None else end, bool(view.truth("octagonal")))


def _density(
    view: View, chosen: Material, wire: float, width: float | None
) -> tuple[float, bool, Default | None]:
    """Density [kg/m3], whether it is the slip's own, and the row under defaults."""
    own = view.number("density_kg_m3")
    weighed = view.number("g_per_m")
    if own is not None and weighed is not None:
        raise Refusal("lapping.two_densities", first=view.path("density_kg_m3"), second=view.path("g_per_m"))
    if weighed is not None:
        probe = Lapping(wire, 1.0, Handle(8.0, 8.0), 1.0, width)
        return weighed / probe.section_mm2 * 1e3, True, None
    if own is not None:
        return own, True, None
    row = Default(view.path("density_kg_m3"), chosen.density_kg_m3, "kg/m3", chosen.source)
    return chosen.density_kg_m3, False, row


def winding(view: View, handle: Handle) -> Winding:
    """The lapping that a table describes, wound over a handle.

    Raises
    ------
    Refusal
        No wire, no length, a gauge number for the wire, an unknown material.
    """
    wire = wire_diameter(view)
    length = view.need_number("length_mm")
    width = view.number("width_mm")
    notes: list[Note] = []
    defaults: list[Default] = []
    name = view.text("material")
    if name is None:
        name = MATERIAL
        defaults.append(Default(view.path("material"), MATERIAL, "", "practice"))
    chosen = material(name)
    density, own, row = _density(view, chosen, wire, width)
    if row is not None:
        defaults.append(row)
    lapping = Lapping(wire, length, handle, density, width)
    status: Status = "ok"
    if not own and not chosen.sure:
        status = "estimate"
        notes.append(Note("lapping.weigh_it", {"material": chosen.key, "density": density}))
    if chosen.key == "gold" and not own:
        notes.append(Note("lapping.fine_gold"))
    if chosen.form == "strip" and width is None:
        status = gravest(status, "estimate")
        notes.append(Note("lapping.strip_needs_width", {"field": view.path("width_mm")}))
    if not USUAL_LENGTH[0] <= length <= USUAL_LENGTH[1]:
        low, high = USUAL_LENGTH
        notes.append(Note("lapping.unusual_length", {"value": length, "low": low, "high": high}))
    if chosen.form == "wire" and not USUAL_WIRE[0] <= wire <= USUAL_WIRE[1]:
        low, high = USUAL_WIRE
        notes.append(Note("lapping.unusual_wire", {"value": wire, "low": low, "high": high}))
    error = mass_error_g(
        lapping,
        bench_default("wire_error_mm"),
        bench_default("length_error_mm"),
        bench_default("handle_error_mm"),
    )
    sources = ("winding_geometry", *(() if own else (chosen.source,)))
    return Winding(lapping, chosen, lapping.mass_g, error, status, tuple(notes), tuple(defaults), sources)
