"""Which figures a card asks for, in the order in which they are taken at the bench."""

from dataclasses import dataclass

from purfling.craft.quantities import Reading, readings
from purfling.words import say

STRINGS = {"violin": ("G", "D", "A", "E"), "viola": ("C", "G", "D", "A"), "cello": ("C", "G", "D", "A")}
# Before the tension goes: post, bridge place and lean first, because the post may fall.
AT_PITCH = (
    "post.behind_mm",
    "bridge.lean_deg",
    "neck.string_length_mm",
    "end.clearance_mm",
    "neck.projection_mm",
)

_INSTRUMENT = {
    "usual": (
        "state.humidity_percent",
        "post.behind_mm",
        "post.tightness",
        "neck.string_length_mm",
        "end.clearance_mm",
        "nut.clearance_mm outer",
        "neck.projection_mm",
        "bridge.height_centre_mm",
    ),
    "full": (
        "state.humidity_percent",
        "state.temperature_c",
        "post.behind_mm",
        "post.inside_mm",
        "post.tightness",
        "bridge.lean_deg",
        "neck.string_length_mm",
        "end.clearance_mm",
        "nut.clearance_mm",
        "neck.projection_mm",
        "bridge.height_centre_mm",
        "bridge.spacing_mm",
        "nut.spacing_mm",
        "board.length_mm",
        "board.radius_nut_mm",
        "board.radius_end_mm",
        "board.scoop_low_mm",
        "board.scoop_high_mm",
        "board.edge_at_root_mm",
        "neck.stop_mm",
        "neck.overstand_mm",
        "body.stop_mm",
        "body.arch_mm",
        "saddle.height_mm",
        "saddle.distance_mm",
        "tail.afterlength_mm",
    ),
}
_BOW = {
    "rehair": (
        "state.humidity_percent",
        "bow.mass_g",
        "bow.balance_mm",
        "hair.eye_place_mm",
        "hair.hair_mass_g",
    ),
    "full": (
        "state.humidity_percent",
        "state.temperature_c",
        "bow.mass_g",
        "bow.balance_mm",
        "hair.hair_mass_g",
        "hair.width_mm",
        "hair.frog_travel_mm",
        "hair.eye_place_mm",
        "bow.gap_mm",
    ),
}


@dataclass(frozen=True)
class Asked:
    """One figure that is asked for: the reading's key and the string or peg, 0 the lowest."""

    key: str
    place: int = 0

    @property
    def reading(self) -> Reading:
        """The row of readings.toml."""
        return readings()[self.key]

    @property
    def name(self) -> str:
        """What the pad and the slip call it: ``end.clearance_mm-2``."""
        return f"{self.key}-{self.place}"

    def words(self, family: str, language: str) -> str:
        """Its name in the user's language, with the string where it is one of many."""
        text = say(f"readings.{self.key.replace('.', '_')}", language)
        return f"{text} · {STRINGS[family][self.place]}" if self.reading.many else text

    def datum(self, language: str) -> str:
        """From where to where it is measured."""
        return say(f"readings.{self.key.replace('.', '_')}_datum", language)

    def along(self, family: str) -> float:
        """0 for the lowest string, 1 for the highest."""
        return self.place / (len(STRINGS[family]) - 1) if self.reading.many else 0.0


def kinds_of(thing) -> tuple[str, ...]:
    """The kinds of card an object may have."""
    return ("rehair", "full") if thing.is_bow else ("usual", "full")


def spread_out(keys: tuple[str, ...], family: str) -> tuple[Asked, ...]:
    """Keys with one figure per string where there are many; ``key outer`` asks the outer two only."""
    found: list[Asked] = []
    last = len(STRINGS[family]) - 1
    for word in keys:
        key, _blank, which = word.partition(" ")
        if which == "outer":
            found += [Asked(key, 0), Asked(key, last)]
        elif readings()[key].many:
            found += [Asked(key, place) for place in range(last + 1)]
        else:
            found.append(Asked(key))
    return tuple(found)


def asked_of(kind: str, thing) -> tuple[Asked, ...]:
    """The figures of a kind of card for an object."""
    table = _BOW if thing.is_bow else _INSTRUMENT
    return spread_out(table[kind], thing.family)


def at_pitch_of(thing) -> tuple[Asked, ...]:
    """What must be in before the tension goes; nothing for a bow."""
    return () if thing.is_bow else spread_out(AT_PITCH, thing.family)


def is_known(key: str, place: int, family: str) -> bool:
    """Whether a key and place name a figure of ours at all."""
    reading = readings().get(key)
    if reading is None:
        return False
    return 0 <= place < (len(STRINGS[family]) if reading.many else 1)
