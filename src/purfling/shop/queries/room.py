"""The room's log: the latest reading, days, equilibrium moisture, what lies outside the shop's bands."""

from collections import defaultdict
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any

from django.utils import timezone

from purfling.craft.climate import emc_percent
from purfling.craft.refusals import Refusal
from purfling.shop.domain import clock
from purfling.shop.models import Object, Reading, RoomBands, RoomReading

FRESH_HOURS = 3
LATEST = 40
SEASON_DAYS = 400
TRACKS = ("end.clearance_mm", "neck.projection_mm")


@dataclass(frozen=True)
class Day:
    """Means of one day [%, degrees Celsius]; ``moisture`` the wood's equilibrium moisture [%]."""

    day: date
    humidity: float | None
    temperature: float | None
    moisture: float | None


def room_now() -> dict[str, float | None]:
    """Humidity and temperature of the last three hours, empty where nobody read them."""
    since = clock.now() - timedelta(hours=FRESH_HOURS)
    row = RoomReading.objects.filter(at__gte=since, at__lte=clock.now()).order_by("-at").first()
    if row is None:
        return {}
    return {"humidity_percent": row.humidity_percent, "temperature_c": row.temperature_c}


def moisture(humidity: float | None, temperature: float | None) -> float | None:
    """Equilibrium moisture of wood, None where it cannot be told."""
    if humidity is None or temperature is None:
        return None
    try:
        return emc_percent(temperature, humidity)
    except Refusal:
        return None


def _mean(values: list[float]) -> float | None:
    return sum(values) / len(values) if values else None


def days(since: datetime) -> list[Day]:
    """Daily means since a moment. One query."""
    by_day: dict[date, tuple[list[float], list[float]]] = defaultdict(lambda: ([], []))
    rows = RoomReading.objects.filter(at__gte=since).values_list("at", "humidity_percent", "temperature_c")
    for at, humidity, temperature in rows:
        lists = by_day[timezone.localtime(at).date()]
        if humidity is not None:
            lists[0].append(humidity)
        if temperature is not None:
            lists[1].append(temperature)
    found = []
    for day in sorted(by_day):
        humidity, temperature = _mean(by_day[day][0]), _mean(by_day[day][1])
        found.append(Day(day, humidity, temperature, moisture(humidity, temperature)))
    return found


def outside(row: RoomReading | None, bands: RoomBands | None) -> list[tuple[str, str, float, float]]:
    """What lies outside the bands: (field, low or high, value, end)."""
    if row is None or bands is None:
        return []
    found = []
    for field, value in (("humidity", row.humidity_percent), ("temperature", row.temperature_c)):
        low, high = getattr(bands, f"{field}_low"), getattr(bands, f"{field}_high")
        if value is not None and low is not None and value < low:
            found.append((field, "low", value, low))
        if value is not None and high is not None and value > high:
            found.append((field, "high", value, high))
    return found


def room_page() -> dict[str, Any]:
    """The latest readings, the days of a year, the bands."""
    latest = list(RoomReading.objects.select_related("who").order_by("-at")[:LATEST])
    bands = RoomBands.objects.first()
    now = latest[0] if latest else None
    return {
        "latest": latest,
        "now": now,
        "moisture": moisture(now.humidity_percent, now.temperature_c) if now else None,
        "outside": outside(now, bands),
        "bands": bands,
        "days": days(clock.now() - timedelta(days=SEASON_DAYS)),
    }


def season_of(thing: Object) -> dict[str, Any]:
    """The room's season beside an instrument's action and projection, on one time axis."""
    readings = list(
        Reading.objects.filter(object=thing, key__in=TRACKS, card__moment__in=("found", "left"))
        .select_related("card")
        .order_by("at")
    )
    since = min((r.at for r in readings), default=clock.now() - timedelta(days=SEASON_DAYS))
    last = max((r.place for r in readings if r.key == "end.clearance_mm"), default=0)
    tracks = {
        "low": [r for r in readings if r.key == "end.clearance_mm" and r.place == 0],
        "high": [r for r in readings if r.key == "end.clearance_mm" and r.place == last and last],
        "projection": [r for r in readings if r.key == "neck.projection_mm"],
    }
    return {"object": thing, "tracks": tracks, "days": days(since), "readings": readings}
