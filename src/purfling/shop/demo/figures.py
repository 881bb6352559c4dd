"""Invented figures: each object has its own, which drift with the season, the years and the maker's hand."""

import math
import random

from purfling.shop.asked import STRINGS, Asked, asked_of

# The middle of each family's usual range, or a place in it that suits its neighbours: invented.
BASE = {
    "violin": {
        "neck.string_length_mm": 328.0,
        "body.stop_mm": 195.0,
        "neck.stop_mm": 130.0,
        "neck.overstand_mm": 6.2,
        "body.arch_mm": 15.6,
        "neck.projection_mm": 27.0,
        "board.length_mm": 270.0,
        "board.radius_nut_mm": 42.0,
        "board.radius_end_mm": 42.0,
        "board.edge_at_root_mm": 4.6,
        "board.scoop_low_mm": 0.7,
        "board.scoop_high_mm": 0.4,
        "nut.spacing_mm": 16.4,
        "bridge.spacing_mm": 33.6,
        "saddle.height_mm": 7.5,
        "saddle.distance_mm": 158.0,
        "tail.afterlength_mm": 54.5,
        "bridge.height_centre_mm": 33.0,
    },
    "viola": {
        "neck.string_length_mm": 372.0,
        "body.stop_mm": 222.0,
        "neck.stop_mm": 148.0,
        "neck.overstand_mm": 7.6,
        "body.arch_mm": 18.0,
        "neck.projection_mm": 31.5,
        "board.length_mm": 300.0,
        "board.radius_nut_mm": 43.0,
        "board.radius_end_mm": 43.0,
        "board.edge_at_root_mm": 5.4,
        "board.scoop_low_mm": 0.9,
        "board.scoop_high_mm": 0.5,
        "nut.spacing_mm": 17.0,
        "bridge.spacing_mm": 36.4,
        "saddle.height_mm": 8.0,
        "saddle.distance_mm": 180.0,
        "tail.afterlength_mm": 62.0,
        "bridge.height_centre_mm": 36.0,
    },
    "cello": {
        "neck.string_length_mm": 690.0,
        "body.stop_mm": 400.0,
        "neck.stop_mm": 280.0,
        "neck.overstand_mm": 20.0,
        "body.arch_mm": 26.0,
        "neck.projection_mm": 81.0,
        "board.length_mm": 580.0,
        "board.radius_nut_mm": 63.0,
        "board.radius_end_mm": 63.0,
        "board.edge_at_root_mm": 7.0,
        "board.scoop_low_mm": 1.5,
        "board.scoop_high_mm": 0.9,
        "nut.spacing_mm": 22.0,
        "bridge.spacing_mm": 46.6,
        "saddle.height_mm": 20.0,
        "saddle.distance_mm": 350.0,
        "tail.afterlength_mm": 116.0,
        "bridge.height_centre_mm": 90.0,
    },
}
END = {
    "violin": (5.5, 4.9, 4.2, 3.5),
    "viola": (6.3, 5.7, 5.0, 4.4),
    "cello": (7.5, 6.7, 5.9, 5.0),
}
NUT = {
    "violin": (0.4, 0.36, 0.3, 0.24),
    "viola": (0.48, 0.42, 0.36, 0.3),
    "cello": (0.75, 0.66, 0.58, 0.5),
}
POST = {"violin": (3.0, 1.0, 3), "viola": (3.5, 1.0, 3), "cello": (6.0, 1.5, 3)}
BOW = {
    "violin": {
        "bow.mass_g": 60.4,
        "bow.balance_mm": 190.0,
        "hair.hair_mass_g": 4.6,
        "hair.eye_place_mm": 4.0,
    },
    "viola": {"bow.mass_g": 69.8, "bow.balance_mm": 186.0, "hair.hair_mass_g": 5.4, "hair.eye_place_mm": 4.5},
    "cello": {"bow.mass_g": 80.6, "bow.balance_mm": 175.0, "hair.hair_mass_g": 6.2, "hair.eye_place_mm": 5.0},
}
# A set of strings of no maker's: pitch of the open strings (A 440), tension and diameter invented.
SETS = {
    "violin": (
        ("G", 196.0, 45.0, 0.8),
        ("D", 293.66, 47.0, 0.75),
        ("A", 440.0, 55.0, 0.68),
        ("E", 659.26, 78.0, 0.26),
    ),
    "viola": (
        ("C", 130.81, 48.0, 1.05),
        ("G", 196.0, 49.0, 0.9),
        ("D", 293.66, 51.0, 0.82),
        ("A", 440.0, 66.0, 0.6),
    ),
    "cello": (
        ("C", 65.41, 128.0, 1.8),
        ("G", 98.0, 132.0, 1.4),
        ("D", 146.83, 136.0, 1.1),
        ("A", 220.0, 158.0, 0.85),
    ),
}
NAMES = ("set with a gut core, older", "set with a spun core, soft", "set with a steel core")


def strings_of(family: str) -> list[dict[str, object]]:
    """The set as a slip's [[strings]]."""
    return [{"name": n, "pitch_hz": f, "tension_n": t, "diameter_mm": d} for n, f, t, d in SETS[family]]


def _step(asked: Asked, value: float) -> float:
    return round(round(value / asked.reading.step) * asked.reading.step, 3)


def humidity(day: int) -> int:
    """Room humidity by the day of the year: dry when the heating is on."""
    return round(46 - 8 * math.cos(2 * math.pi * (day - 15) / 365))


def figure_of(asked: Asked, thing, dice: random.Random, own: random.Random, day: int, high: float) -> float:
    """One invented figure.

    ``own`` are the object's own dice (the same at every visit), ``dice`` those of the day; ``high`` [mm] is
    how much the strings stand above the usual as found (0 as left).
    """
    family, key = thing.family, asked.key
    season = -0.15 * math.cos(2 * math.pi * (day - 15) / 365)
    if key == "state.humidity_percent":
        return humidity(day) + dice.choice((-1, 0, 1))
    if key == "state.temperature_c":
        return _step(asked, 20.5 + dice.choice((-0.5, 0.0, 0.5, 1.0)))
    if key == "end.clearance_mm":
        scale = 1.0 - 0.2 * asked.place / (len(STRINGS[family]) - 1)
        stands = (high + season) * scale + own.uniform(-0.15, 0.15)
        return _step(asked, END[family][asked.place] + stands)
    if key == "nut.clearance_mm":
        return _step(asked, NUT[family][asked.place] + 0.05 * (high > 0.2) + own.uniform(-0.02, 0.02))
    if key.startswith("post."):
        behind, inside, tightness = POST[family]
        values = {"post.behind_mm": behind, "post.inside_mm": inside, "post.tightness": tightness}
        return _step(asked, values[key] + (dice.choice((0.0, 0.5)) if key == "post.behind_mm" else 0.0))
    if key == "bridge.lean_deg":
        return dice.choice((-0.5, 0.0, 0.5, 1.0)) if high > 0 else 0.0
    base = (BOW if thing.is_bow else BASE)[family].get(key)
    if base is None:
        reading = asked.reading
        low, top = reading.usual_band(family, asked.along(family))
        return _step(asked, (low + top) / 2)
    spread = 2.0 * asked.reading.error
    return _step(
        asked, base + own.uniform(-spread, spread) + (0.25 * season if key == "neck.projection_mm" else 0)
    )


def figures_for(kind: str, thing, dice: random.Random, day: int, high: float) -> list[tuple[Asked, str]]:
    """Every figure of a card as it would be typed."""
    own = random.Random(thing.pk.int)
    return [(a, f"{figure_of(a, thing, dice, own, day, high):.10g}") for a in asked_of(kind, thing)]
