"""The history of an object: every visit on one time line, every reading as a series with its gauge error."""

from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from purfling.shop.asked import STRINGS, Asked
from purfling.shop.domain.card import comparable
from purfling.shop.models import Card, Object, Reading
from purfling.shop.queries.card import shown

FIRST = (
    "end.clearance_mm",
    "nut.clearance_mm",
    "neck.projection_mm",
    "bridge.height_centre_mm",
    "bow.mass_g",
)
# Cards of one object that a page shows, the newest; more than thirty years of yearly visits.
MOST_CARDS = 80


@dataclass(frozen=True)
class Point:
    """One reading of a series, with all it is worth nothing without."""

    at: datetime
    value: float
    error: float
    text: str
    card: Card
    humidity: str
    who: str
    joined: bool  # comparable with the point before: same datum, direction, tension


@dataclass
class Series:
    """One reading over the years, one list of points per string."""

    key: str
    words: str
    unit: str
    places: list[tuple[str, list[Point]]] = field(default_factory=list)

    @property
    def once(self) -> bool:
        """Read once only: a line of text says it better than a chart."""
        return all(len(points) == 1 for _name, points in self.places)


@dataclass(frozen=True)
class Heights:
    """A reading by visit: one column per card, the newest first, one row per string."""

    words: str
    unit: str
    cards: list[Card]
    rows: list[tuple[str, list[str]]]
    humidity: list[str]


def _ordered(keys: set[str]) -> list[str]:
    return sorted(keys, key=lambda k: (FIRST.index(k) if k in FIRST else len(FIRST), k))


def history_of_object(thing: Object, language: str) -> dict[str, Any]:
    """Cards and series of an object in two queries."""
    cards = list(
        thing.cards.exclude(moment=Card.Moment.WISHED)
        .select_related("visit_object__visit", "who")
        .order_by("-at")[:MOST_CARDS]
    )
    by_id = {c.pk: c for c in cards}
    readings = list(Reading.objects.filter(card__in=by_id).order_by("at", "id"))
    humidity = {r.card_id: f"{r.value:.0f} %" for r in readings if r.key == "state.humidity_percent"}
    series: dict[str, Series] = {}
    for key in _ordered({r.key for r in readings}):
        rows = [r for r in readings if r.key == key]
        series[key] = _series(key, rows, by_id, humidity, thing, language)
    heights = [
        _heights(series[k], cards, humidity) for k in ("end.clearance_mm", "nut.clearance_mm") if k in series
    ]
    visits = sorted({c.visit_object.visit for c in cards}, key=lambda v: v.number)
    return {
        "object": thing,
        "cards": cards,
        "series": [s for k, s in series.items() if not k.startswith("state.")],
        "heights": heights,
        "visits": visits,
    }


def _series(
    key: str, rows: list[Reading], cards: dict, humidity: dict, thing: Object, language: str
) -> Series:
    first = Asked(key, rows[0].place)
    words = first.words(thing.family, language).split(" · ")[0]
    found = Series(key, words, first.reading.unit)
    for place in sorted({r.place for r in rows}):
        asked = Asked(key, place)
        name = STRINGS[thing.family][place] if asked.reading.many else ""
        points: list[Point] = []
        own = sorted((r for r in rows if r.place == place), key=lambda r: cards[r.card_id].at)
        for reading in own:
            card = cards[reading.card_id]
            joined = bool(points) and comparable(points[-1].card, card, key)
            points.append(
                Point(
                    card.at,
                    reading.value,
                    reading.error,
                    shown(reading.value, asked, language),
                    card,
                    humidity.get(card.pk, ""),
                    str(card.who or ""),
                    joined,
                )
            )
        found.places.append((name, points))
    return found


def _heights(series: Series, cards: list[Card], humidity: dict) -> Heights:
    used = [c for c in cards if any(p.card.pk == c.pk for _n, points in series.places for p in points)][:8]
    rows = []
    for name, points in series.places:
        by_card = {p.card.pk: p.text for p in points}
        rows.append((name, [by_card.get(c.pk, "") for c in used]))
    return Heights(series.words, series.unit, used, rows, [humidity.get(c.pk, "") for c in used])
