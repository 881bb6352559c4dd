"""A slip -> the question about a bridge, with every default named."""

from dataclasses import dataclass, replace
from typing import Any

from purfling.craft.bridge.lean import LeanLimits, LeanLoad
from purfling.craft.bridge.lumped import taps_mean
from purfling.craft.bridge.modes import Feet
from purfling.craft.bridge.outline import OutlineMeasures, drawn_outline
from purfling.craft.bridge.question import BridgeQuestion, MeasuredTaps
from purfling.craft.bridge.rings import Rings
from purfling.craft.bridge.section import fitted_density, weighed
from purfling.craft.bridge.shaving import Cut
from purfling.craft.bridge.thickness import Thickness, thickness_by_rule, thickness_by_stations
from purfling.craft.bridge.wood import Wood, bridge_table, checked_wood
from purfling.craft.refusals import Refusal
from purfling.craft.result import Default
from purfling.slips.known.bridge import MEASURES
from purfling.slips.reader import Slip
from purfling.slips.rings import read_rings

EVERY_MEASURE = (*MEASURES, "crown_tilt_mm")
# readings of the card's standing bridge that stand for a measure left out of the bridge's own tables
FROM_CARD = {
    ("outline", "foot_span_mm"): "foot_span_mm",
    ("outline", "foot_length_mm"): "foot_length_mm",
    ("outline", "height_mm"): "height_centre_mm",
    ("thickness", "foot_mm"): "foot_mm",
    ("thickness", "top_mm"): "top_mm",
    ("lean", "angle_deg"): "lean_deg",
    ("lean", "bend_mm"): "bend_mm",
}
MOST_CUTS = 40


@dataclass(frozen=True)
class BridgeSlip:
    """The question, the inputs it shows, the defaults it took, and the family the defaults are of."""

    question: BridgeQuestion
    inputs: dict[str, Any]
    defaults: tuple[Default, ...]
    family: str
    measures: OutlineMeasures | None


class _Taken:
    """Collects inputs and defaults while the tables are read."""

    def __init__(self, slip: Slip, family: str) -> None:
        self.slip, self.family = slip, family
        self.inputs: dict[str, Any] = {}
        self.defaults: list[Default] = []

    def default(self, table: str, key: str, value: Any, unit: str, source: str) -> Any:
        self.defaults.append(Default(f"{table}.{key}", value, unit, source))
        self.inputs[f"{table}.{key}"] = value
        return value

    def number(self, table: str, key: str, value: float, source: str = "memory") -> float:
        """A number of the slip, of the card's bridge, or the default."""
        view = self.slip.table(table)
        given = view.number(key)
        if given is None and (table, key) in FROM_CARD:
            given = self.slip.table("bridge").number(FROM_CARD[table, key])
        if given is not None:
            self.inputs[f"{table}.{key}"] = given
            return given
        return float(self.default(table, key, value, view.table.field(key).unit, source))


def bridge_family(slip: Slip) -> tuple[str, bool]:
    """[outline] family, else [body] family, else violin; and whether it was given."""
    given = slip.table("outline").choice("family") or slip.table("body").choice("family")
    return (given, True) if given else ("violin", False)


def bridge_of(slip: Slip) -> BridgeSlip:
    """The question of a slip.

    Raises
    ------
    Refusal
        A value out of its range, an outline no bridge can have, wood that breaks the energy, too thin wood.
    """
    family, known = bridge_family(slip)
    taken = _Taken(slip, family)
    if known:
        taken.inputs["outline.family"] = family
    else:
        taken.default("outline", "family", family, "", "practice")
    wood = _wood(taken)
    feet = _feet(taken)
    load = _load(taken)
    measured = _measured(slip)
    boundary, inside = _mesh(taken)
    rings, measures = _rings(taken)
    thickness = _thickness(taken, rings)
    if measured.weighed_g is not None and not slip.table("wood").has("density_kg_m3"):
        volume = weighed(rings, thickness, 1.0).volume_mm3
        wood = checked_wood(replace(wood, density_kg_m3=fitted_density(volume, measured.weighed_g)))
        taken.inputs["wood.density_kg_m3"] = wood.density_kg_m3
        taken.defaults = [d for d in taken.defaults if d.field != "wood.density_kg_m3"]
    cuts = _cuts(taken, measures is not None)
    taken.inputs |= {
        f"measured.{k}": list(v) if isinstance(v, tuple) else v for k, v in vars(measured).items() if v
    }
    every = bridge_table()["lean"]["every"]
    limits = LeanLimits(**{k: float(every[k]) for k in LeanLimits.__dataclass_fields__})
    question = BridgeQuestion(rings, thickness, wood, feet, boundary, inside, cuts, load, limits, measured)
    return BridgeSlip(question, taken.inputs, tuple(taken.defaults), family, measures)


def _rings(taken: _Taken) -> tuple[Rings, OutlineMeasures | None]:
    view = taken.slip.table("outline")
    file = view.text("rings_file")
    if file is not None:
        both = [key for key in EVERY_MEASURE if view.has(key)]
        if both:
            raise Refusal("bridge.both_outlines", field=f"outline.{both[0]}")
        taken.inputs["outline.rings_file"] = file
        return read_rings(taken.slip.folder / file), None
    table = bridge_table()["outline"][taken.family]
    m = OutlineMeasures(**{k: taken.number("outline", k, table[k], "own_drawing") for k in EVERY_MEASURE})
    return drawn_outline(m), m


def _thickness(taken: _Taken, rings: Rings) -> Thickness:
    view = taken.slip.table("thickness")
    rows = taken.slip.rows("station")
    if rows:
        both = [key for key in ("foot_mm", "top_mm", "rule", "front", "bulge_mm") if view.has(key)]
        if both:
            raise Refusal("bridge.both_thicknesses", field=f"thickness.{both[0]}")
        stations = tuple((r.need_number("height_mm"), r.need_number("thickness_mm")) for r in rows)
        taken.inputs["station"] = [{"height_mm": y, "thickness_mm": h} for y, h in stations]
        return thickness_by_stations(rings, stations)
    table = bridge_table()["thickness"][taken.family]
    foot = taken.number("thickness", "foot_mm", table["foot_mm"])
    top = taken.number("thickness", "top_mm", table["top_mm"])
    rule = view.choice("rule") or taken.default("thickness", "rule", "edge", "", "practice")
    front = view.choice("front") or ("curved" if view.has("bulge_mm") else None)
    front = front or taken.default("thickness", "front", "flat", "", "practice")
    taken.inputs |= {"thickness.rule": rule, "thickness.front": front}
    if front == "flat" and view.number("bulge_mm"):
        raise Refusal("bridge.flat_bulge", value=view.data["bulge_mm"])
    bulge = taken.number("thickness", "bulge_mm", table["bulge_mm"], "practice") if front == "curved" else 0.0
    return thickness_by_rule(rings, foot, top, rule, bulge)  # type: ignore[arg-type]


def _wood(taken: _Taken) -> Wood:
    view = taken.slip.table("wood")
    own = ("EL_MPa", "ER_MPa", "GLR_MPa", "nuLR", "density_kg_m3")
    preset = view.choice("preset")
    if preset is None and not all(view.has(key) for key in own):
        preset = taken.default("wood", "preset", "maple", "", "practice")
    elif preset is not None:
        taken.inputs["wood.preset"] = preset
    row = bridge_table()["wood"][preset or "maple"]
    values = {key: taken.number("wood", key, row[key], row["source"]) for key in own}
    grain = taken.number("wood", "grain_deg", 0.0, "practice")
    return checked_wood(Wood(**values, grain_deg=grain))


def _feet(taken: _Taken) -> Feet:
    view = taken.slip.table("feet")
    clamped, spring = view.truth("clamped"), view.number("stiffness_n_per_mm3")
    if clamped and spring is not None:
        raise Refusal("bridge.clamped_springs", value=float(spring))
    if spring is not None:
        taken.inputs["feet.stiffness_n_per_mm3"] = spring
        return Feet(False, spring)
    if clamped is False:
        raise view.missing("stiffness_n_per_mm3")
    if clamped is None:
        taken.default("feet", "clamped", True, "", "practice")
    taken.inputs["feet.clamped"] = True
    return Feet()


def _load(taken: _Taken) -> LeanLoad:
    every = bridge_table()["lean"]["every"]
    angle = taken.number("lean", "angle_deg", every["angle_deg"], "practice")
    face = taken.slip.table("lean").choice("face") or taken.default("lean", "face", "back", "", "practice")
    taken.inputs["lean.face"] = face
    bend = taken.number("lean", "bend_mm", every["bend_mm"], "practice")
    load = taken.number("lean", "load_n", bridge_table()["lean"][taken.family]["load_n"])
    creep = taken.number("lean", "creep", every["creep"], "timber_creep")
    return LeanLoad(angle, face, bend, load, creep)  # type: ignore[arg-type]


def _mesh(taken: _Taken) -> tuple[float, float]:
    table = bridge_table()["mesh"][taken.family]
    boundary = taken.number("mesh", "boundary_mm", table["boundary_mm"], "own_drawing")
    inside = taken.number("mesh", "inside_mm", max(table["inside_mm"], boundary), "own_drawing")
    if inside < boundary:
        raise Refusal("bridge.mesh_upside_down", value=float(inside), limit=float(boundary))
    return boundary, inside


def _cuts(taken: _Taken, drawn: bool) -> tuple[Cut, ...]:
    rows = taken.slip.rows("cut")
    usual = bridge_table()["cut"][taken.family]
    if not rows:
        if not drawn:
            return ()
        return tuple(
            Cut(place, float(taken.default(f"cut {place}", "amount_mm", amount, "mm", "practice")), place)
            for place, amount in usual.items()
        )
    if len(rows) > MOST_CUTS:
        raise Refusal("bridge.too_many_cuts", value=len(rows), limit=MOST_CUTS)
    found: list[Cut] = []
    for row in rows:
        place = row.need_choice("place")
        amount = row.number("amount_mm")
        if amount is None:
            amount = float(usual[place])
            taken.defaults.append(Default(row.path("amount_mm"), amount, "mm", "practice"))
        name = row.text("name") or place
        if any(c.name == name for c in found):
            name = f"{name} {amount:g} mm"
        found.append(Cut(place, amount, name))  # type: ignore[arg-type]
    taken.inputs["cut"] = [{"place": c.place, "amount_mm": c.amount_mm} for c in found]
    return tuple(found)


def _measured(slip: Slip) -> MeasuredTaps:
    view = slip.table("measured")
    taps = tuple(view.numbers("taps_hz") or ())
    rocking, added, loaded = view.number("rocking_hz"), view.number("added_mass_mg"), view.number("loaded_hz")
    if rocking is not None and taps:
        raise Refusal("bridge.two_rockings")
    if taps:
        rocking = taps_mean(taps)[0]
    if (added is None) != (loaded is None):
        raise view.missing("loaded_hz" if loaded is None else "added_mass_mg")
    if loaded is not None:
        if rocking is None:
            raise view.missing("rocking_hz")
        if loaded >= rocking:
            raise Refusal("bridge.not_lower", value=float(loaded), limit=float(rocking))
    return MeasuredTaps(rocking, taps, view.number("bouncing_hz"), added, loaded, view.number("mass_g"))
