"""Cards: what the pad needs for each figure, and found, wished, left side by side."""

from dataclasses import dataclass, field
from typing import Any

from purfling.craft.quantities import readings
from purfling.shop.asked import Asked, asked_of, spread_out
from purfling.shop.domain.card import comparable
from purfling.shop.models import Card, Reading, VisitObject
from purfling.shop.words import DATUM
from purfling.words import decimal

# How many earlier visits are looked through for the previous figure.
LOOKED_THROUGH = 400


def shown(value: float, asked: Asked, language: str) -> str:
    """A value with the field's own number of decimals."""
    return decimal(value, asked.reading.decimals, language)


def earlier_readings(card: Card) -> dict[tuple[str, int], list[Reading]]:
    """The object's readings before a card, newest first, in one query."""
    rows = (
        Reading.objects.filter(object=card.object_id, card__at__lte=card.at)
        .exclude(card=card)
        .exclude(card__moment=Card.Moment.WISHED)
        .select_related("card", "who")
        .order_by("-card__at")[:LOOKED_THROUGH]
    )
    found: dict[tuple[str, int], list[Reading]] = {}
    for row in rows:
        found.setdefault((row.key, row.place), []).append(row)
    return found


def figures_of(card: Card, further: str = "") -> list[Asked]:
    """What the card asks for, what was added to it besides, and a ``further`` reading that is to be added."""
    asked = list(asked_of(card.kind, card.object))
    there = {(a.key, a.place) for a in asked}
    more = {(r.key, r.place) for r in card.readings.all()}
    if further in further_keys(card):
        more |= {(a.key, a.place) for a in spread_out((further,), card.object.family)}
    return asked + [Asked(k, p) for k, p in sorted(more - there)]


def further_keys(card: Card) -> list[str]:
    """Readings that this card does not ask for and could hold."""
    asked = {a.key for a in asked_of(card.kind, card.object)}
    own = (
        ("bow", "hair")
        if card.object.is_bow
        else tuple({k.split(".")[0] for k in readings()} - {"bow", "hair"})
    )
    return [
        k
        for k in readings()
        if k.split(".", maxsplit=1)[0] in own and k not in asked and not k.startswith("state.")
    ]


def own_datum(card: Card, asked: Asked) -> str:
    """How this card takes the reading, where the card fixes it: "underside of the string, upright"."""
    names = {
        "end.clearance_mm": ("end.datum", "end.direction"),
        "nut.clearance_mm": ("nut.datum",),
        "bow.balance_mm": ("bow.datum", "bow.hair"),
    }.get(asked.key, ())
    return ", ".join(str(DATUM[card.datums[n]]) for n in names if n in card.datums)


def pad_of(card: Card, language: str, further: str = "") -> dict[str, Any]:
    """The whole card as the pad takes it: one entry per figure."""
    family = card.object.family
    own = {(r.key, r.place): r for r in card.readings.all()}
    before = earlier_readings(card)
    figures = []
    for asked in figures_of(card, further):
        reading = asked.reading
        band = reading.usual_band(family, asked.along(family))
        hard = reading.hard_band(family)
        last = next(
            (r for r in before.get((asked.key, asked.place), []) if comparable(r.card, card, asked.key)), None
        )
        mine = own.get((asked.key, asked.place))
        figures.append(
            {
                "key": asked.key,
                "place": asked.place,
                "words": asked.words(family, language),
                "datum": own_datum(card, asked) or asked.datum(language),
                "unit": reading.unit,
                "decimals": reading.decimals,
                "low": band[0] if band else None,
                "high": band[1] if band else None,
                "least": hard[0],
                "most": hard[1],
                "usual": f"{shown(band[0], asked, language)} – {shown(band[1], asked, language)}"
                if band
                else "",
                "before": shown(last.value, asked, language) if last else "",
                "before_at": last.card.at.strftime("%Y-%m-%d") if last else "",
                "text": (mine.entered or shown(mine.value, asked, language)) if mine else "",
            }
        )
    return {"figures": figures, "unfinished": card.unfinished, "decimal": "," if language == "de" else "."}


@dataclass
class Line:
    """One figure over the three moments; ``change`` is left (or wished) minus found."""

    words: str
    unit: str
    found: str = ""
    wished: str = ""
    left: str = ""
    before: str = ""
    change: str = ""
    notes: list[str] = field(default_factory=list)


def side_by_side(row: VisitObject, language: str) -> list[Line]:
    """As found, wished, as left: the figures of a visit's object in columns that line up."""
    cards = {c.moment: c for c in row.cards.all()}
    values: dict[str, dict[tuple[str, int], Reading]] = {
        moment: {(r.key, r.place): r for r in card.readings.all()} for moment, card in cards.items()
    }
    order: dict[tuple[str, int], Asked] = {}
    for card in cards.values():
        for asked in asked_of(card.kind, row.object):
            order.setdefault((asked.key, asked.place), asked)
    for figures in values.values():
        for key, place in sorted(figures):
            order.setdefault((key, place), Asked(key, place))
    return [_line(asked, values, row.object.family, language) for asked in order.values()]


def _line(asked: Asked, values: dict, family: str, language: str) -> Line:
    own = {moment: those.get((asked.key, asked.place)) for moment, those in values.items()}
    line = Line(asked.words(family, language), asked.reading.unit)
    for moment, reading in own.items():
        setattr(line, moment, shown(reading.value, asked, language) if reading else "")
    end = own.get("left") or own.get("wished")
    if end and own.get("found") and not asked.key.startswith("state."):
        difference = end.value - own["found"].value
        line.change = ("+" if difference > 0 else "") + shown(difference, asked, language)
    return line
