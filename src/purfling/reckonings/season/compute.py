"""Two cards -> what the projection did, what the season explains, what is left over."""

import math
from dataclasses import dataclass, replace
from typing import Any

from purfling.craft.climate import DAMPEST, DRIEST, emc_percent, moisture_error_percent
from purfling.craft.quantities import readings
from purfling.craft.refusals import Refusal
from purfling.craft.result import Answer, Default, Note, Status, gravest
from purfling.craft.season import Between, Fall, Yearly, projection_change, yearly_swing
from purfling.reckonings.setup.compute import Reckoned, reckon_card
from purfling.slips.reader import Slip

SURE = 2.0  # standard deviations beyond which a change is called one
FEW = 3
ROOM_C = 20.0  # where a history row has no temperature
BRIDGE = ("height_low_mm", "height_high_mm")


@dataclass(frozen=True)
class Air:
    """Room at a card: humidity [%], temperature [C], equilibrium moisture [%] with its error."""

    humidity_percent: float
    temperature_c: float
    emc_percent: float
    error_percent: float


@dataclass(frozen=True)
class SeasonCase:
    """Both cards, what the strings tell, the air of both days, the year's own swing."""

    before: Reckoned
    now: Reckoned
    fall: Fall
    air: tuple[Air | None, Air | None]
    yearly: Yearly | None
    answer: Answer


def _air(slip: Slip, defaults: list[Default], which: str) -> tuple[Air | None, list[Note]]:
    state = slip.table("state")
    humidity, temperature = state.number("humidity_percent"), state.number("temperature_c")
    if humidity is None:
        return None, [Note("arithmetic.no_humidity", {"card": which})]
    if temperature is None:
        temperature = ROOM_C
        defaults.append(Default(f"state.temperature_c ({which})", ROOM_C, "C", "shop"))
    if not DRIEST <= humidity <= DAMPEST:
        shown = {"card": which, "value": humidity, "low": DRIEST, "high": DAMPEST}
        return None, [Note("arithmetic.humidity_outside", shown)]
    error = moisture_error_percent(temperature, humidity, readings()["state.humidity_percent"].error)
    return Air(humidity, temperature, emc_percent(temperature, humidity), error), []


def _bridge_change(
    before: Slip, now: Slip, places: list[float], kept: bool
) -> tuple[tuple[float, ...], float]:
    """Change of the bridge under each string [mm] and the error of one height; zeros for an untouched bridge.

    Heights are read at the outer strings; between them the change goes in proportion to the place.
    """
    if kept:
        return (0.0,) * len(places), 0.0
    changes = []
    for key in BRIDGE:
        old, new = before.table("bridge").number(key), now.table("bridge").number(key)
        if old is None or new is None:
            raise Refusal("arithmetic.season_bridge", low=f"bridge.{BRIDGE[0]}", high=f"bridge.{BRIDGE[1]}")
        changes.append(new - old)
    low, high = changes
    span = places[-1] - places[0]
    return (
        tuple(low + (high - low) * (y - places[0]) / span for y in places),
        readings()["bridge.height_low_mm"].error,
    )


def _between(before: Reckoned, now: Reckoned, bridge: tuple[float, ...]) -> Between:
    card = now.taken.card
    return Between(
        end_change_mm=tuple(
            b - a for a, b in zip(before.setup.clearance_mm, now.setup.clearance_mm, strict=True)
        ),
        nut_change_mm=tuple(
            b - a for a, b in zip(before.setup.nut_clearance_mm, now.setup.nut_clearance_mm, strict=True)
        ),
        bridge_change_mm=bridge,
        string_length_mm=card.string_length_mm,
        board_length_mm=card.board_length_mm,
        slope_deg=now.setup.board_slope_deg,
    )


def _yearly(slip: Slip, defaults: list[Default]) -> tuple[Yearly | None, list[Note]]:
    moist, heights = [], []
    for row in slip.rows("history"):
        projection = row.number("projection_mm")
        if projection is None:
            continue
        temperature = row.number("temperature_c")
        if temperature is None:
            temperature = ROOM_C
            defaults.append(Default(row.path("temperature_c"), ROOM_C, "C", "shop"))
        moist.append(emc_percent(temperature, row.need_number("humidity_percent")))
        heights.append(projection)
    if not heights:
        return None, [Note("arithmetic.no_history")]
    found = yearly_swing(moist, heights)
    if found.n < FEW:
        return found, [Note("arithmetic.too_few", {"n": found.n, "what": "history"})]
    return found, []


def _same(before: Slip, now: Slip, one: Reckoned, other: Reckoned) -> None:
    """Refuse two cards that cannot be compared: another state, family or number of strings."""
    if one.taken.card.tension_state != other.taken.card.tension_state:
        raise Refusal(
            "setup.mixed_states", found=one.taken.card.tension_state, wished=other.taken.card.tension_state
        )
    if one.taken.card.family != other.taken.card.family or len(one.setup.strings) != len(other.setup.strings):
        raise Refusal("arithmetic.other_instrument", before=before.name, now=now.name)


def _left_over(fall: Fall, read: float, error: float) -> dict[str, float]:
    """The projection as read against what the strings tell."""
    left = read - fall.projection_change_mm
    return {"left_over_mm": left, "left_over_error_mm": math.hypot(error, fall.projection_change_error_mm)}


def _expected(air: tuple[Air | None, Air | None], yearly: Yearly | None) -> tuple[float, float] | None:
    """What the season explains [mm] and its error, or None where it cannot be told."""
    before, now = air
    if before is None or now is None or yearly is None or yearly.n < FEW:
        return None
    moved = now.emc_percent - before.emc_percent
    damp = math.hypot(before.error_percent, now.error_percent) * abs(yearly.mm_per_percent)
    return yearly.mm_per_percent * moved, math.hypot(damp, math.sqrt(2.0) * yearly.residual_mm)


def verdict(fall: Fall, expected: tuple[float, float] | None) -> str:
    """``nothing``, ``season``, ``beyond_season`` or ``unknown``.

    A change within two standard deviations of the readings is none; what its own year does not explain
    within two is beyond it; without at least three readings of the year it is unknown.
    """
    if abs(fall.projection_change_mm) <= SURE * fall.projection_change_error_mm:
        return "nothing"
    if expected is None:
        return "unknown"
    off = abs(fall.projection_change_mm - expected[0])
    return (
        "season"
        if off <= SURE * math.hypot(fall.projection_change_error_mm, expected[1])
        else "beyond_season"
    )


def _split(before: Slip, now: Slip, fall: Fall) -> tuple[dict[str, Any], list[Note]]:
    """Risen belly or sunk neck, where the arch was read on both cards."""
    old, new = before.table("body").number("arch_mm"), now.table("body").number("arch_mm")
    if old is None or new is None:
        return {"belly_rose_mm": None, "neck_moved_mm": None, "neck_moved_error_mm": None}, [
            Note("arithmetic.no_arch")
        ]
    rose = new - old
    error = math.hypot(math.sqrt(2.0) * readings()["body.arch_mm"].error, fall.projection_change_error_mm)
    return {
        "belly_rose_mm": rose,
        "neck_moved_mm": fall.projection_change_mm + rose,
        "neck_moved_error_mm": error,
    }, []


def _day(air: Air | None) -> dict[str, float] | None:
    if air is None:
        return None
    return {
        "humidity_percent": air.humidity_percent,
        "temperature_c": air.temperature_c,
        "emc_percent": air.emc_percent,
        "emc_error_percent": air.error_percent,
    }


def compute(before: Slip, now: Slip, bridge_kept: bool = False) -> SeasonCase:
    """Reckon what happened between two cards of one instrument.

    Raises
    ------
    Refusal
        As the set-up, for either card; other state or instrument; bridge heights not on both cards (unless
        the bridge stood untouched).
    """
    one, other = reckon_card(before), reckon_card(now)
    _same(before, now, one, other)
    places = [p.lateral_mm for p in other.setup.strings]
    bridge, bridge_error = _bridge_change(before, now, places, bridge_kept)
    gauge = other.taken.card.gauge
    fall = projection_change(
        _between(one, other, bridge), gauge.clearance_end_mm, gauge.clearance_nut_mm, bridge_error
    )
    defaults: list[Default] = []
    notes: list[Note] = []
    air_before, more = _air(before, defaults, "before")
    notes += more
    air_now, more = _air(now, defaults, "now")
    notes += more
    yearly, more = _yearly(now, defaults)
    notes += more
    split, more = _split(before, now, fall)
    notes += more
    read = other.taken.card.projection_mm - one.taken.card.projection_mm
    expected = _expected((air_before, air_now), yearly)
    results: dict[str, Any] = {
        "projection_change_mm": fall.projection_change_mm,
        "projection_change_error_mm": fall.projection_change_error_mm,
        "each_string_mm": list(fall.each_mm),
        "spread_mm": fall.spread_mm,
        "projection_read_change_mm": read,
        **_left_over(fall, read, math.sqrt(2.0) * gauge.projection_mm),
        **split,
        "air": {"before": _day(air_before), "now": _day(air_now)},
        "season_mm": None if expected is None else expected[0],
        "season_error_mm": None if expected is None else expected[1],
        "beyond_season_mm": None if expected is None else fall.projection_change_mm - expected[0],
        "yearly_mm_per_percent": None if yearly is None else yearly.mm_per_percent,
        "n": 0 if yearly is None else yearly.n,
        "verdict": verdict(fall, expected),
    }
    base = other.answer
    status: Status = gravest(base.status, "ok" if yearly is not None and yearly.n >= FEW else "estimate")
    answer = replace(
        base,
        results=results,
        status=status,
        warnings=(*base.warnings, *notes),
        inputs={**base.inputs, "before": one.answer.inputs, "--bridge-kept": bridge_kept},
        defaults=(*base.defaults, *defaults),
        sources=tuple(dict.fromkeys((*base.sources, "wood_handbook_emc"))),
    )
    return SeasonCase(one, other, fall, (air_before, air_now), yearly, answer)
