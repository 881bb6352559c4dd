"""Slip -> Card: readings taken from the slip, what was left out taken from the tables and listed."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, cast

from purfling.craft.card import Card, Gauge, StringOn
from purfling.craft.defaults import StringDefault, default, default_strings
from purfling.craft.quantities import FAMILIES, Family, readings
from purfling.craft.refusals import Refusal
from purfling.craft.result import Default, Note
from purfling.craft.strings import scaled_tension_n, tension_n
from purfling.slips.reader import Slip
from purfling.slips.view import View

GAUGE_READING = {
    "projection_mm": "neck.projection_mm",
    "clearance_end_mm": "end.clearance_mm",
    "clearance_nut_mm": "nut.clearance_mm",
    "length_mm": "neck.string_length_mm",
    "radius_mm": "board.radius_end_mm",
    "spacing_mm": "bridge.spacing_mm",
}
MOST_STRINGS = 7


@dataclass(frozen=True)
class Taken:
    """A card with what was taken from the tables, the usual-range warnings and the pitches."""

    card: Card
    defaults: tuple[Default, ...]
    notes: tuple[Note, ...]
    pitch_hz: tuple[float, ...]
    scoop_mm: tuple[float, float]


class Filler:
    """Takes readings from the slip, or the family's default, which it writes down."""

    def __init__(self, slip: Slip, family: Family) -> None:
        self.slip = slip
        self.family = family
        self.defaults: list[Default] = []
        self.notes: list[Note] = []

    def optional(self, table: str, key: str) -> float | None:
        """A reading that may be absent; outside its usual range it leaves a warning."""
        value = self.slip.table(table).number(key)
        if value is not None:
            self.look(f"{table}.{key}", value)
        return value

    def needed(self, table: str, key: str) -> float:
        """A reading that must be given."""
        value = self.slip.table(table).need_number(key)
        self.look(f"{table}.{key}", value)
        return value

    def filled(self, table: str, key: str) -> float:
        """A reading, or the family's default."""
        value = self.optional(table, key)
        if value is not None:
            return value
        row = default(self.family, f"{table}.{key}")
        self.defaults.append(Default(f"{table}.{key}", row.value, row.unit, row.source))
        return row.value

    def look(self, field: str, value: float, place: float = 0.0, shown: str | None = None) -> None:
        """Warn where a value lies outside the usual range of its family."""
        reading = readings().get(field)
        band = reading.usual_band(self.family, place) if reading else None
        if reading is None or band is None:
            return
        low, high = band
        margin = 1e-9 + 1e-9 * abs(high)
        if value < low - margin or value > high + margin:
            self.notes.append(
                Note(
                    "setup.outside_usual",
                    {
                        "field": shown or field,
                        "value": float(f"{value:.6g}"),
                        "unit": reading.unit,
                        "low": float(f"{low:.4g}"),
                        "high": float(f"{high:.4g}"),
                    },
                )
            )


def family_of(slip: Slip) -> Family:
    """body.family, which must be given."""
    return cast(Family, slip.table("body").need_choice("family"))


def card_from_slip(slip: Slip) -> Taken:
    """The card of a slip (of ``slip.wished()`` for the wished one).

    Raises
    ------
    Refusal
        A reading that must be given is missing (family, both lengths, projection, clearances, datum,
        direction, tension state), has no place in its hard range, or a list has the wrong length.
    """
    family = family_of(slip)
    fill = Filler(slip, family)
    state = slip.table("state").need_choice("tension")
    look_over(slip, fill)
    length = fill.needed("neck", "string_length_mm")
    strings, pitches = _strings(slip, family, length, fill)
    n = len(strings)
    nut, end = slip.table("nut"), slip.table("end")
    nut_clearance = nut.need_numbers("clearance_mm", n)
    end_clearance = end.need_numbers("clearance_mm", n)
    card = Card(
        family=family,
        string_length_mm=length,
        projection_mm=fill.needed("neck", "projection_mm"),
        board_slope_deg=fill.optional("neck", "board_slope_deg"),
        neck_stop_mm=fill.filled("neck", "stop_mm"),
        overstand_mm=fill.filled("neck", "overstand_mm"),
        arch_mm=fill.filled("body", "arch_mm"),
        stop_mm=fill.filled("body", "stop_mm"),
        board_length_mm=fill.needed("board", "length_mm"),
        radius_nut_mm=fill.filled("board", "radius_nut_mm"),
        radius_end_mm=fill.filled("board", "radius_end_mm"),
        edge_at_root_mm=fill.filled("board", "edge_at_root_mm"),
        width_root_mm=fill.filled("board", "width_root_mm"),
        width_nut_mm=fill.optional("board", "width_nut_mm"),
        width_end_mm=fill.optional("board", "width_end_mm"),
        flat_low_mm=fill.optional("board", "flat_low_mm"),
        nut_spacing_mm=fill.filled("nut", "spacing_mm"),
        nut_spacing=nut.choice("spacing") or "centres",
        nut_clearance_mm=tuple(nut_clearance),
        nut_datum=nut.need_choice("datum"),
        end_clearance_mm=tuple(end_clearance),
        end_datum=end.need_choice("datum"),
        end_direction=end.need_choice("direction"),
        bridge_spacing_mm=fill.filled("bridge", "spacing_mm"),
        bridge_spacing=slip.table("bridge").choice("spacing") or "centres",
        foot_span_mm=fill.filled("bridge", "foot_span_mm"),
        foot_length_mm=fill.filled("bridge", "foot_length_mm"),
        notch_depth_mm=fill.optional("bridge", "notch_depth_mm"),
        saddle_height_mm=fill.filled("saddle", "height_mm"),
        saddle_distance_mm=fill.filled("saddle", "distance_mm"),
        strings=tuple(strings),
        tension_state=state,
        gauge=_gauge(slip, fill),
    )
    _list_rules(slip, card, fill)
    scoop = (fill.filled("board", "scoop_low_mm"), fill.filled("board", "scoop_high_mm"))
    return Taken(card, tuple(fill.defaults), tuple(fill.notes), tuple(pitches), scoop)


def _list_rules(slip: Slip, card: Card, fill: Filler) -> None:
    """Rules that stand in for what was left out: spacing between centres, notches a third of the diameter."""
    for table in ("nut", "bridge"):
        if not slip.table(table).has("spacing"):
            fill.defaults.append(Default(f"{table}.spacing", "centres", "", "geometry"))
    if card.notch_depth_mm is None:
        depths = [round(s.diameter_mm / 3, 4) for s in card.strings]
        fill.defaults.append(Default("bridge.notch_depth_mm", depths, "mm", "third_of_diameter"))


OWN = ("body", "neck", "board", "nut", "end", "bridge", "saddle", "state", "gauge")


def look_over(slip: Slip, fill: Filler) -> None:
    """Every given value of the card's own tables in its hard range; what nothing else takes, in the usual."""
    for name in OWN:
        slip.table(name).check_all()
    for row in (*slip.rows("strings"), *slip.rows("profile")):
        row.check_all()
    for row in slip.rows("profile"):
        stations, depths = row.numbers("station_mm") or [], row.numbers("depth_mm") or []
        if len(stations) != len(depths):
            raise Refusal(
                "slips.wrong_length", field=row.path("depth_mm"), value=len(depths), limit=len(stations)
            )
    for table, key in NOT_TAKEN:
        value = slip.table(table).number(key)
        if value is not None:
            fill.look(f"{table}.{key}", value)


NOT_TAKEN = (
    ("state", "humidity_percent"),
    ("state", "temperature_c"),
    ("board", "edge_bass_mm"),
    ("board", "edge_treble_mm"),
)


def _gauge(slip: Slip, fill: Filler) -> Gauge:
    given = slip.table("gauge")
    values: dict[str, float] = {}
    for key, reading in GAUGE_READING.items():
        value = given.number(key)
        if value is None:
            value = readings()[reading].error
            fill.defaults.append(Default(f"gauge.{key}", value, "mm", "gauge"))
        values[key] = value
    return Gauge(**values)


def _strings(slip: Slip, family: Family, length: float, fill: Filler) -> tuple[list[StringOn], list[float]]:
    usual = default_strings(family)
    rows = slip.rows("strings")
    if not rows:
        for one in usual:
            fill.defaults.append(
                Default(f"strings {one.name}: tension_n", one.tension_n, "N", "string_defaults")
            )
            fill.defaults.append(
                Default(f"strings {one.name}: diameter_mm", one.diameter_mm, "mm", "string_defaults")
            )
        return (
            [StringOn(u.name, u.diameter_mm, u.tension_n) for u in usual],
            [u.pitch_hz for u in usual],
        )
    if len(rows) > MOST_STRINGS:
        raise Refusal("setup.too_many_strings", value=len(rows), limit=MOST_STRINGS)
    by_name = {u.name: u for u in usual}
    strings: list[StringOn] = []
    pitches: list[float] = []
    for row in rows:
        name = row.need_text("name")
        like = by_name.get(name)
        diameter = _or_default(row, "diameter_mm", like, fill)
        pitch = _or_default(row, "pitch_hz", like, fill)
        if pitches and pitch <= pitches[-1]:
            raise Refusal("setup.strings_fall", name=name[:20], value=f"{pitch:g}")
        if name in [one.name for one in strings]:
            raise Refusal("setup.string_twice", name=name[:20])
        strings.append(StringOn(name, diameter, _tension(row, like, length, pitch, fill)))
        pitches.append(pitch)
    return strings, pitches


def _or_default(row: View, key: str, like: StringDefault | None, fill: Filler) -> float:
    given = row.number(key)
    if given is not None:
        return given
    if like is None:
        raise row.missing(key)
    value = float(getattr(like, key))
    source = "pitch" if key == "pitch_hz" else "string_defaults"
    fill.defaults.append(Default(f"strings {like.name}: {key}", value, row.table.field(key).unit, source))
    return value


def _tension(row: View, like: StringDefault | None, length: float, pitch: float, fill: Filler) -> float:
    tension, density = row.number("tension_n"), row.number("density_g_per_m")
    stated = row.number("stated_tension_n")
    if sum(v is not None for v in (tension, density, stated)) > 1:
        raise Refusal("setup.tension_twice", field=row.path("tension_n"))
    if stated is not None:
        stated_pitch = row.number("stated_pitch_hz") or pitch
        return scaled_tension_n(stated, row.need_number("stated_length_mm"), stated_pitch, length, pitch)
    if tension is not None:
        return tension
    if density is not None:
        return tension_n(density, length, pitch)
    return _or_default(row, "tension_n", like, fill)


def readings_given(slip: Slip) -> Mapping[str, Any]:
    """The inputs as given: table.key -> value, in the order of the slip (for the answer's ``inputs``)."""
    found: dict[str, Any] = {}
    for table in ("body", "neck", "board", "nut", "end", "bridge", "saddle", "state", "gauge"):
        for key, value in slip.tables.get(table, {}).items():
            found[f"{table}.{key}"] = value
    if slip.tables.get("strings"):
        found["strings"] = [dict(row) for row in slip.tables["strings"]]
    return found


__all__ = ["FAMILIES", "Taken", "card_from_slip", "family_of", "readings_given"]
