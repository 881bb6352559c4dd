"""Slip -> what dressing needs: wish, strings, clearances, what was asked; what was left out comes from
tables.
"""

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Any

import numpy as np

from purfling.craft.defaults import default_strings
from purfling.craft.dressing_board import DressingWish
from purfling.craft.geometry import Array
from purfling.craft.quantities import readings
from purfling.craft.refusals import Refusal
from purfling.craft.result import Default, Note
from purfling.craft.setup import setup
from purfling.craft.strings import lateral_places
from purfling.craft.swing import Swing
from purfling.reckonings.setup.card import Filler, card_from_slip, family_of
from purfling.slips.reader import Slip

ASKED = ("neck_straight", "board_sound", "blackened")


@cache
def _table() -> dict[str, Any]:
    text = (resources.files("purfling.craft.tables") / "dressing.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


@dataclass(frozen=True)
class Strings:
    """The strings over the board, lowest first: names, places, underside clearances (upright), open
    pitches.
    """

    names: tuple[str, ...]
    nut_mm: Array
    bridge_mm: Array
    nut_clearance_mm: Array
    end_clearance_mm: Array
    pitch_hz: Array


@dataclass(frozen=True)
class Asked:
    """What was looked at before planing; None: not asked."""

    neck_straight: bool | None
    board_sound: bool | None
    blackened: bool | None

    @property
    def refer(self) -> tuple[str, ...]:
        """Why the work goes to a repair first."""
        bent = ("refer_bent",) if self.neck_straight is False else ()
        loose = ("refer_loose",) if self.board_sound is False else ()
        return bent + loose


class Taker(Filler):
    """Takes values from the slip or from the tables of dressing, writing every default down."""

    def __init__(self, slip: Slip) -> None:
        super().__init__(slip, family_of(slip))

    def own(self, table: str, key: str) -> float:
        """A value, or dressing's own default for the family."""
        value = self.optional(table, key)
        return self.tabled(f"{table}.{key}") if value is None else value

    def tabled(self, field: str) -> float:
        """Dressing's own default for the family, written down."""
        row = _table()[self.family][field]
        self.defaults.append(Default(field, row["value"], row["unit"], row["source"]))
        return float(row["value"])

    def band(self, key: str, reading: str) -> tuple[float, float]:
        """A wished band, or the usual range of the reading."""
        given = self.slip.table("wish").band(key)
        if given is not None:
            return given
        row = readings()[reading]
        band = row.usual_band(self.family)
        assert band is not None
        self.defaults.append(Default(f"wish.{key}", list(band), row.unit, row.source))
        return band

    def middle(self, field: str, place: float = 0.0) -> float:
        """The middle of a reading's usual range."""
        band = readings()[field].usual_band(self.family, place)
        assert band is not None
        return round((band[0] + band[1]) / 2, 3)

    def gauge(self, key: str, reading: str) -> float:
        """One standard deviation of a gauge."""
        value = self.slip.table("gauge").number(key)
        if value is None:
            value = readings()[reading].error
            self.defaults.append(Default(f"gauge.{key}", value, "mm", "gauge"))
        return value


def take_asked(slip: Slip) -> Asked:
    """[asked] of a slip."""
    view = slip.table("asked")
    return Asked(*(view.truth(key) for key in ASKED))


def take_wish(taker: Taker) -> DressingWish:
    """What is wished of the board, with weights.

    Raises
    ------
    Refusal
        A band upside down, both weights zero, values outside their hard ranges.
    """
    slip = taker.slip
    weights, view = slip.table("weights"), slip.table("wish")
    shares: list[float] = []
    for key, value in (("max", 0.7), ("mean", 0.3)):
        given = weights.number(key)
        if given is None:
            taker.defaults.append(Default(f"weights.{key}", value, "", "shop"))
        shares.append(value if given is None else given)
    if sum(shares) <= 0:
        raise Refusal("dressing.no_weights")
    loss, leave = view.number("projection_loss_max_mm"), view.number("leave_mm")
    least = slip.table("edge").number("least_mm")
    return DressingWish(
        scoop_low_mm=taker.band("scoop_low_mm", "board.scoop_low_mm"),
        scoop_high_mm=taker.band("scoop_high_mm", "board.scoop_high_mm"),
        radius_nut_mm=taker.band("radius_nut_mm", "board.radius_nut_mm"),
        radius_end_mm=taker.band("radius_end_mm", "board.radius_end_mm"),
        projection_loss_max_mm=taker.tabled("wish.projection_loss_max_mm") if loss is None else loss,
        least_mm=taker.tabled("edge.least_mm") if least is None else least,
        leave_mm=0.0 if leave is None else leave,
        weight_max=shares[0],
        weight_mean=shares[1],
    )


def take_strings(taker: Taker, board_length: float, length: float) -> tuple[Strings, float]:
    """The strings and the board slope [degrees].

    With a clearance in the slip the whole set-up card is taken (and must be whole); else the tables stand in.
    """
    slip = taker.slip
    if slip.table("nut").has("clearance_mm") or slip.table("end").has("clearance_mm"):
        return _from_card(taker)
    names, wide, pitch = _names(taker)
    n = len(names)
    nut, bridge = (
        lateral_places(taker.filled(t, "spacing_mm"), slip.table(t).choice("spacing") or "centres", wide)
        for t in ("nut", "bridge")
    )
    clearances = []
    for field in ("nut.clearance_mm", "end.clearance_mm"):
        values = [taker.middle(field, i / (n - 1)) for i in range(n)]
        taker.defaults.append(Default(field, values, "mm", readings()[field].source))
        clearances.append(np.array(values))
    slope = taker.optional("neck", "board_slope_deg")
    if slope is None:
        slope = taker.middle("neck.board_slope_deg")
        source = readings()["neck.board_slope_deg"].source
        taker.defaults.append(Default("neck.board_slope_deg", slope, "deg", source))
    places = (np.array(nut), np.array(bridge))
    return Strings(names, *places, clearances[0], clearances[1], np.array(pitch)), slope


def _from_card(taker: Taker) -> tuple[Strings, float]:
    taken = card_from_slip(taker.slip)
    found = setup(taken.card)
    known = {d.field for d in taker.defaults}
    fresh = [d for d in taken.defaults if d.field not in known]
    taker.defaults += [d for d in fresh if not d.field.startswith("board.scoop_")]
    said = {(n.code, str(n.params)) for n in taker.notes}
    taker.notes += [n for n in taken.notes if (n.code, str(n.params)) not in said]
    strings = Strings(
        tuple(s.name for s in found.strings),
        np.array(found.groove_lateral_mm),
        np.array([s.lateral_mm for s in found.strings]),
        np.array(found.nut_clearance_mm),
        np.array(found.clearance_mm),
        np.array(taken.pitch_hz),
    )
    return strings, found.board_slope_deg


def _names(taker: Taker) -> tuple[tuple[str, ...], list[float], list[float]]:
    """Names, diameters [mm] and open pitches [Hz]; by name from the family's usual set where left out."""
    usual = default_strings(taker.family)
    rows = taker.slip.rows("strings")
    if not rows:
        taker.defaults.append(Default("strings", ", ".join(u.name for u in usual), "", "string_defaults"))
        return tuple(u.name for u in usual), [u.diameter_mm for u in usual], [u.pitch_hz for u in usual]
    if len(rows) < 3:
        raise Refusal("setup.too_few_strings", value=len(rows))
    by_name = {u.name: u for u in usual}
    wide: list[float] = []
    pitch: list[float] = []
    for row in rows:
        name = row.need_text("name")
        for key, values, source in (("diameter_mm", wide, "string_defaults"), ("pitch_hz", pitch, "pitch")):
            value = row.number(key)
            if value is None:
                if name not in by_name:
                    raise row.missing(key)
                value = float(getattr(by_name[name], key))
                taker.defaults.append(
                    Default(f"strings {name}: {key}", value, row.table.field(key).unit, source)
                )
            values.append(value)
    return tuple(row.need_text("name") for row in rows), wide, pitch


def take_swing(taker: Taker) -> Swing:
    """How the strings are bowed: [swing], or the shop's own usual figures."""
    view = taker.slip.table("swing")
    plain = Swing()
    values: dict[str, float] = {}
    for key in ("bow_speed_m_s", "bow_from_bridge_mm", "bow_angle_deg"):
        given = view.number(key)
        if given is None:
            given = float(getattr(plain, key))
            taker.defaults.append(Default(f"swing.{key}", given, view.table.field(key).unit, "shop"))
        values[key] = given
    return Swing(**values)


def notes_asked(asked: Asked) -> list[Note]:
    """Warnings from what was, or was not, asked before planing."""
    found = [Note(f"dressing.{reason}") for reason in asked.refer]
    if asked.blackened:
        found.append(Note("dressing.blackened"))
    left = [key for key in ASKED if getattr(asked, key) is None]
    if left:
        found.append(Note("dressing.not_asked", {"keys": ", ".join(left)}))
    return found
