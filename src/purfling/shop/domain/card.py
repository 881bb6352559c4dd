"""Cards: begin, take a figure, strike it, copy a wish, let the tension off."""

import math
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from django.db import transaction
from django.utils.translation import get_language

from purfling.craft.refusals import Refusal
from purfling.craft.result import Note
from purfling.shop.asked import Asked, at_pitch_of, is_known, kinds_of
from purfling.shop.domain import clock, keeping
from purfling.shop.domain.figures import Figure, check_hard, read_figure
from purfling.shop.models import Card, Maker, Reading, Shop, VisitObject

CHOICES = {
    "end.datum": ("underside", "centre"),
    "end.direction": ("upright", "wedge"),
    "nut.datum": ("underside", "centre"),
    "nut.spacing": ("centres", "gaps"),
    "bridge.spacing": ("centres", "gaps"),
    "bow.datum": ("frog_front", "stick_end", "button", "ferrule"),
    "bow.hair": ("tight", "slack"),
}
OF_BOW = ("bow.datum", "bow.hair")
JUMP = 3.0  # standard deviations of the difference of two readings


@dataclass
class Taken:
    """A figure that was stored; ``notes`` looks at it (usual range, jump) when it is asked."""

    reading: Reading
    card: Card
    asked: Asked
    name: str

    @cached_property
    def notes(self) -> tuple[Note, ...]:
        """What was noticed about it."""
        return _noticed(self.card, self.asked, self.reading.value, self.reading.error, self.name)


def usual_datums(thing) -> dict[str, str]:
    """The datums of a shop that has said nothing else: the first of each choice."""
    return {k: v[0] for k, v in CHOICES.items() if (k in OF_BOW) == thing.is_bow}


def _last_card(row: VisitObject) -> Card | None:
    return (
        Card.objects.filter(object=row.object_id).exclude(moment=Card.Moment.WISHED).order_by("-at").first()
    )


@transaction.atomic
def begin_card(
    *,
    row: VisitObject,
    moment: str,
    kind: str,
    who: Maker | None,
    tension: str = "strung",
    id=None,
    **values: Any,
) -> Card:
    """Begin the card of a moment; datums and strings are those of the object's card before, until changed.

    Raises
    ------
    Refusal
        The moment has its card already; a kind the object has not.
    """
    if kind not in kinds_of(row.object):
        raise Refusal("book.no_such_card", kind=kind[:20])
    if moment not in Card.Moment.values:
        raise Refusal("book.no_such_card", kind=moment[:20])
    if row.cards.filter(moment=moment).exists():
        raise Refusal("book.card_exists", moment=moment)
    last = _last_card(row)
    card = Card(
        visit_object=row,
        object=row.object,
        moment=moment,
        kind=kind,
        tension=tension,
        datums=usual_datums(row.object) | (last.datums if last else {}),
        strings=values.pop("strings", last.strings if last else []),
        strings_name=values.pop("strings_name", last.strings_name if last else ""),
        at=clock.now(),
        who=who,
    )
    card.datums |= values.pop("datums", {})
    if id is not None:
        card.id = id
    _check_datums(card)
    return keeping.add(card, who=who)


def _check_datums(card: Card) -> None:
    for name, word in card.datums.items():
        if word not in CHOICES.get(name, ()):
            raise Refusal("book.no_such_datum", name=name[:30], value=str(word)[:30])
    if card.tension not in ("strung", "slack"):
        raise Refusal("book.no_such_datum", name="tension", value=card.tension[:30])


@transaction.atomic
def fix_card(
    *, card: Card, who: Maker, seen: int | None = None, datums: dict | None = None, **values: Any
) -> Card:
    """Change datum, direction or tension of a card while it holds no figure that hangs on them.

    Raises
    ------
    Refusal
        Figures are there already: a card holds one state, and a figure never changes its datum by itself.
    """
    wished = {**card.datums, **(datums or {})}
    tension = values.get("tension", card.tension)
    if (wished != card.datums or tension != card.tension) and card.readings.exclude(
        key__startswith="state."
    ).exists():
        raise Refusal("book.card_is_fixed")
    trial = Card(datums=wished, tension=tension)
    _check_datums(trial)
    return keeping.change(card, who=who, seen=seen, datums=wished, **values)


def gauge_error(asked: Asked, card: Card) -> float:
    """One standard deviation of the shop's gauge, or the table's; looked up once for a card in hand."""
    gauges = card.__dict__.get("gauges_in_hand")
    if gauges is None:
        gauges = Shop.objects.values_list("gauges", flat=True).first() or {}
        card.__dict__["gauges_in_hand"] = gauges
    return float(gauges.get(asked.key, asked.reading.error))


@transaction.atomic
def take_reading(
    *,
    card: Card,
    key: str,
    text: str,
    who: Maker | None,
    place: int = 0,
    same: bool = False,
    id=None,
) -> Taken:
    """Store a typed figure; one that stands already is changed, with its old value in the history.

    Raises
    ------
    Refusal
        No figure of ours, not a figure, outside the hard range; nothing else stops it.
    """
    family = card.object.family
    if not is_known(key, place, family):
        raise Refusal("book.no_such_reading", key=key[:40])
    asked = Asked(key, place)
    name = asked.words(family, (get_language() or "en")[:2])
    figure = read_figure(text, asked.reading, name)
    check_hard(figure.value, asked.reading, family, name)
    reading = _store(card, asked, figure, who, same, id)
    if card.unfinished:
        Card.objects.filter(pk=card.pk).update(unfinished={})
        card.unfinished = {}
    return Taken(reading, card, asked, name)


def _store(card: Card, asked: Asked, figure: Figure, who: Maker | None, same: bool, id) -> Reading:
    there = Reading.objects.filter(card=card, key=asked.key, place=asked.place).first()
    values = {"value": figure.value, "entered": figure.entered, "same": same}
    if there is not None:
        return keeping.change(there, who=who, **values)
    if id is not None and Reading.objects.filter(pk=id).exists():
        raise Refusal("book.id_taken")
    fresh = Reading(
        card=card,
        object_id=card.object_id,
        key=asked.key,
        place=asked.place,
        error=gauge_error(asked, card),
        at=clock.now(),
        who=who,
        **values,
    )
    if id is not None:
        fresh.id = id
    return keeping.add(fresh, who=who)


def _noticed(card: Card, asked: Asked, value: float, error: float, name: str) -> tuple[Note, ...]:
    """Outside the usual range, or a jump that the gauges do not explain: told, never a block."""
    notes: list[Note] = []
    band = asked.reading.usual_band(card.object.family, asked.along(card.object.family))
    shown = {"name": name, "value": f"{value:g}", "unit": asked.reading.unit}
    if band is not None and not band[0] - 1e-9 <= value <= band[1] + 1e-9:
        notes.append(Note("book.outside_usual", {**shown, "low": f"{band[0]:.4g}", "high": f"{band[1]:.4g}"}))
    if card.moment != Card.Moment.WISHED and not asked.key.startswith("state."):
        before = previous_reading(card, asked)
        if before is not None:
            spread = math.hypot(before.error, error)
            if abs(value - before.value) > JUMP * spread:
                notes.append(Note("book.jump", {**shown, "before": f"{before.value:g}"}))
    return tuple(notes)


def previous_reading(card: Card, asked: Asked) -> Reading | None:
    """The object's reading before this card, taken from the same datum in the same state."""
    rows = (
        Reading.objects.filter(object=card.object_id, key=asked.key, place=asked.place, card__at__lte=card.at)
        .exclude(card=card)
        .exclude(card__moment=Card.Moment.WISHED)
        .select_related("card")
        .order_by("-card__at")
    )
    return next((r for r in rows[:8] if comparable(r.card, card, asked.key)), None)


def comparable(one: Card, other: Card, key: str) -> bool:
    """Whether two cards took a reading from the same datum, direction and tension."""
    if key.startswith("state."):
        return True
    table = key.split(".", maxsplit=1)[0]
    names = [n for n in CHOICES if n.split(".")[0] == table]
    if table in ("bow", "hair"):
        return all(one.datums.get(n) == other.datums.get(n) for n in OF_BOW)
    return one.tension == other.tension and all(one.datums.get(n) == other.datums.get(n) for n in names)


@transaction.atomic
def strike_reading(*, card: Card, key: str, who: Maker, place: int = 0) -> None:
    """Take a figure off the card; its value stays in the history."""
    there = Reading.objects.filter(card=card, key=key, place=place).first()
    if there is not None:
        keeping.remove(there, who=who)


def type_figure(*, card: Card, key: str, place: int, text: str) -> None:
    """Keep what is being typed, so that an interrupted card resumes there."""
    if not is_known(key, place, card.object.family):
        raise Refusal("book.no_such_reading", key=key[:40])
    unfinished = {"key": key, "place": place, "text": text[:40]} if text else {}
    Card.objects.filter(pk=card.pk).update(unfinished=unfinished)


@transaction.atomic
def wish_as_last_time(*, row: VisitObject, who: Maker) -> Card:
    """The wished card from what was left at the visit before (or wished, where nothing was left).

    Raises
    ------
    Refusal
        There is no visit before with such a card.
    """
    before = (
        Card.objects.filter(object=row.object_id, moment__in=(Card.Moment.LEFT, Card.Moment.WISHED))
        .exclude(visit_object=row)
        .order_by("-at", "moment")
        .first()
    )
    if before is None:
        raise Refusal("book.no_last_time")
    card = row.cards.filter(moment=Card.Moment.WISHED).first()
    if card is None:
        card = begin_card(
            row=row,
            moment=Card.Moment.WISHED,
            kind=before.kind,
            who=who,
            tension=before.tension,
            datums=before.datums,
            strings=before.strings,
            strings_name=before.strings_name,
        )
    for reading in before.readings.exclude(key__startswith="state."):
        text = reading.entered or f"{reading.value!r}"
        take_reading(card=card, key=reading.key, place=reading.place, text=text, who=who, same=True)
    return card


@transaction.atomic
def let_tension_off(*, row: VisitObject, who: Maker, word: str = "") -> VisitObject:
    """Strings off: held back until post, bridge place, lean and the readings at pitch are in.

    Raises
    ------
    Refusal
        Some are missing and no word was given why they are passed over.
    """
    if row.object.is_bow:
        raise Refusal("book.bow_has_no_strings")
    missing = missing_at_pitch(row)
    if missing and not word.strip():
        language = (get_language() or "en")[:2]
        names = ", ".join(a.words(row.object.family, language) for a in missing)
        raise Refusal("book.strings_held_back", names=names)
    return keeping.change(
        row, who=who, because=word.strip(), strings_off_at=clock.now(), strings_off_word=word.strip()[:300]
    )


def missing_at_pitch(row: VisitObject) -> tuple[Asked, ...]:
    """What must still be read before the tension goes."""
    there = set(
        Reading.objects.filter(
            card__visit_object=row, card__moment=Card.Moment.FOUND, card__tension="strung"
        ).values_list("key", "place")
    )
    return tuple(a for a in at_pitch_of(row.object) if (a.key, a.place) not in there)
