"""The room's log: typed, or a logger's file; the shop's warning bands."""

import csv
import math
from datetime import datetime
from typing import Any

from django.db import transaction
from django.utils import timezone

from purfling.craft.refusals import Refusal
from purfling.shop.domain import keeping
from purfling.shop.domain.varnish_place import check_moment, check_number, check_owner
from purfling.shop.models import Maker, RoomBands, RoomReading

MOST_ROWS = 6000
RANGES = {"humidity_percent": (0, 100), "temperature_c": (-30, 60)}
TIMES = ("time", "date", "datum", "zeit", "stamp")
NAMES = {"humidity_percent": ("hum", "feucht", "rh", "rf"), "temperature_c": ("temp",)}
FORMS = (
    "%Y-%m-%d %H:%M:%S",
    "%Y-%m-%d %H:%M",
    "%Y-%m-%dT%H:%M:%S",
    "%Y-%m-%dT%H:%M",
    "%d.%m.%Y %H:%M:%S",
    "%d.%m.%Y %H:%M",
    "%d/%m/%Y %H:%M:%S",
    "%d/%m/%Y %H:%M",
)


@transaction.atomic
def read_room(
    *,
    who: Maker | None,
    humidity_percent: float | None = None,
    temperature_c: float | None = None,
    at: datetime | None = None,
    room: str = "",
    logged: bool = False,
    id=None,
) -> RoomReading:
    """One reading of the room; a second one of the same moment corrects the first.

    Raises
    ------
    Refusal
        Neither humidity nor temperature, or a number that cannot be.
    """
    if humidity_percent is None and temperature_c is None:
        raise Refusal("varnish.room_nothing")
    check_number("humidity", humidity_percent, *RANGES["humidity_percent"])
    check_number("temperature", temperature_c, *RANGES["temperature_c"])
    moment = check_moment(at, "reading")
    found = RoomReading.objects.filter(room=room, at=moment).first()
    values: dict[str, Any] = {"humidity_percent": humidity_percent, "temperature_c": temperature_c}
    if found is not None:
        return keeping.change(found, who=who, **values)
    row = RoomReading(at=moment, room=room[:40], logged=logged, who=who, **values)
    if id is not None:
        row.id = id
    return keeping.add(row, who=who)


def _columns(header: list[str]) -> dict[str, int]:
    """Which column is what; a second column of time is the hour beside a date."""
    found: dict[str, int] = {}
    for place, cell in enumerate(header):
        name = cell.strip().casefold()
        field = next((f for f, words in NAMES.items() if any(w in name for w in words)), "")
        if not field and any(w in name for w in TIMES):
            field = "hour" if "at" in found else "at"
        if field:
            found.setdefault(field, place)
    if "at" not in found or not set(NAMES) & set(found):
        raise Refusal("varnish.room_header")
    return found


def _number(text: str, line: int) -> float | None:
    text = text.strip().strip("%°C ").replace(",", ".")
    if not text:
        return None
    try:
        value = float(text)
    except ValueError:
        raise Refusal("varnish.room_number", line=line, text=text[:20]) from None
    if not math.isfinite(value):
        raise Refusal("varnish.room_number", line=line, text=text[:20])
    return value


def _moment(text: str, line: int) -> datetime:
    text = " ".join(text.split())
    for form in FORMS:
        try:
            return timezone.make_aware(datetime.strptime(text, form))
        except ValueError:
            continue
    try:
        found = datetime.fromisoformat(text)
    except ValueError:
        raise Refusal("varnish.room_time", line=line, text=text[:30]) from None
    return found if timezone.is_aware(found) else timezone.make_aware(found)


def rows_of_file(text: str) -> list[dict[str, Any]]:
    """The readings of a logger's CSV: header first; comma, semicolon or tab; decimal point or comma.

    Raises
    ------
    Refusal
        No header with time and humidity or temperature; a cell that is no moment or number; too many lines.
    """
    text = text.lstrip("﻿")
    first = text.split("\n", 1)[0]
    sign = max(";\t,", key=first.count)
    reader = csv.reader(text.splitlines(), delimiter=sign)
    try:
        lines = [r for r in reader if any(c.strip() for c in r)]
    except csv.Error as wrong:
        raise Refusal("varnish.room_header") from wrong
    if len(lines) - 1 > MOST_ROWS:
        raise Refusal("varnish.room_many", n=len(lines) - 1, most=MOST_ROWS)
    if not lines:
        raise Refusal("varnish.room_header")
    columns = _columns(lines[0])
    found = []
    for number, given in enumerate(lines[1:], start=2):
        cells = given + [""] * (len(lines[0]) - len(given))
        when = cells[columns["at"]]
        if "hour" in columns:
            when += " " + cells[columns["hour"]]
        row: dict[str, Any] = {"at": _moment(when, number)}
        for field in ("humidity_percent", "temperature_c"):
            row[field] = _number(cells[columns[field]], number) if field in columns else None
        if row["humidity_percent"] is None and row["temperature_c"] is None:
            raise Refusal("varnish.room_empty", line=number)
        found.append(row)
    return found


@transaction.atomic
def take_file(*, text: str, who: Maker, room: str = "") -> tuple[int, int]:
    """A logger's file: all of it or nothing. Returns how many were new, and how many were there already."""
    rows = rows_of_file(text)
    new = 0
    first, last = min((r["at"] for r in rows), default=None), max((r["at"] for r in rows), default=None)
    there: set[datetime] = set()
    if first is not None:
        known = RoomReading.objects.filter(room=room, at__gte=first, at__lte=last)
        there = set(known.values_list("at", flat=True))
    for row in rows:
        if row["at"] in there:
            continue
        there.add(row["at"])
        read_room(who=who, room=room, logged=True, **row)
        new += 1
    return new, len(rows) - new


def the_bands() -> RoomBands:
    """The shop's warning bands, made where they are missing."""
    found = RoomBands.objects.first()
    return found if found is not None else keeping.add(RoomBands(), who=None)


def set_bands(*, bands: RoomBands, who: Maker, seen: int | None = None, **values: Any) -> RoomBands:
    """Where the shop wants to be warned. The owner's."""
    check_owner(who)
    for field, name in (("humidity", "humidity_percent"), ("temperature", "temperature_c")):
        low, high = values.get(f"{field}_low"), values.get(f"{field}_high")
        check_number(field, low, *RANGES[name])
        check_number(field, high, *RANGES[name])
        if low is not None and high is not None and low > high:
            raise Refusal("varnish.bands_order", field=field)
    return keeping.change(bands, who=who, seen=seen, **values)
