"""The seam between book and engine: a slip from records, a reckoning on it, and what is kept of it."""

from dataclasses import dataclass, field
from typing import Any

from django.db import transaction
from django.utils.translation import get_language

from purfling import __version__
from purfling.shop.asked import STRINGS
from purfling.shop.domain import clock, keeping
from purfling.shop.models import Card, Maker, Reading, Reckoning, VisitObject
from purfling.slips.known import known_tables
from purfling.slips.reader import Slip, check_slip
from purfling.words.envelope import envelope

PLACES = 5  # decimals of a figure in a slip: inches come out as 1.98438 mm


@dataclass(frozen=True)
class Taken:
    """A figure that the card of this visit does not hold: from an earlier card, or between its neighbours."""

    field: str
    origin: str  # "earlier" or "between"
    at: str = ""


@dataclass
class RecordSlip:
    """The tables of a slip and where the figures that are not of this card come from."""

    tables: dict[str, Any]
    taken: list[Taken] = field(default_factory=list)

    def slip(self) -> Slip:
        """The slip, its names checked by the one door."""
        return check_slip(self.tables, "card")


def _takes(key: str) -> bool:
    """Whether the slips know the reading at all."""
    table, name = key.split(".", maxsplit=1)
    known = known_tables().get(table)
    return known is not None and name in known.keys and not known.many


def _put(tables: dict[str, Any], key: str, place: int, value: float, strings: int, many: bool) -> None:
    table, name = key.split(".", maxsplit=1)
    own = tables.setdefault(table, {})
    if not many:
        own[name] = round(value, PLACES)
        return
    own.setdefault(name, [None] * strings)[place] = round(value, PLACES)


def _datums_into(tables: dict[str, Any], card: Card, bow: bool) -> None:
    if not bow:
        tables.setdefault("state", {})["tension"] = card.tension
    for name, word in card.datums.items():
        table, key = name.split(".")
        if table in tables or table == "bow":
            tables.setdefault(table, {})[key] = word


def main_card(row: VisitObject) -> Card | None:
    """The card a reckoning stands on: as found, else as left."""
    cards = {c.moment: c for c in row.cards.all()}
    return cards.get("found") or cards.get("left")


def _earlier(row: VisitObject, card: Card | None) -> dict[tuple[str, int], Reading]:
    """The object's newest earlier figures of the same tension, in one query."""
    rows = Reading.objects.filter(object=row.object_id).exclude(card__visit_object=row)
    rows = rows.exclude(card__moment=Card.Moment.WISHED).select_related("card").order_by("card__at")
    if card is not None:
        rows = rows.filter(card__at__lte=card.at, card__tension=card.tension)
    return {(r.key, r.place): r for r in rows}


def slip_of(row: VisitObject, fill: bool = True) -> RecordSlip:
    """The slip of a visit's object: its card, its wish, and with ``fill`` what earlier cards know.

    A figure of an earlier card is taken only where this card has none of that reading and its datum is the
    same; inner strings of a card that asked for the outer two lie between them in proportion. Both are
    listed.
    """
    thing = row.object
    strings = len(STRINGS[thing.family])
    tables: dict[str, Any] = {"body": {"family": thing.family}}
    found = RecordSlip(tables)
    card = main_card(row)
    own = list(card.readings.all()) if card else []
    for reading in own:
        if _takes(reading.key):
            many = _many(reading.key)
            _put(tables, reading.key, reading.place, reading.value, strings, many)
    if fill and not thing.is_bow:
        _fill_earlier(found, row, card, {r.key for r in own}, strings)
        _fill_between(found)
    if card is not None:
        _datums_into(tables, card, thing.is_bow)
        if card.strings:
            tables["strings"] = card.strings
    wished = next((c for c in row.cards.all() if c.moment == "wished"), None)
    if wished is not None:
        _wish_into(tables, wished, card, strings)
    return found


def _many(key: str) -> bool:
    from purfling.craft.quantities import readings

    return readings()[key].many is not None


def _fill_earlier(
    found: RecordSlip, row: VisitObject, card: Card | None, own: set[str], strings: int
) -> None:
    from purfling.shop.domain.card import comparable

    for (key, place), reading in _earlier(row, card).items():
        if key in own or key.startswith("state.") or not _takes(key):
            continue
        if card is not None and not comparable(reading.card, card, key):
            continue
        _put(found.tables, key, place, reading.value, strings, _many(key))
        found.taken.append(Taken(key, "earlier", reading.card.at.strftime("%Y-%m-%d")))


def _fill_between(found: RecordSlip) -> None:
    for table, own in found.tables.items():
        if not isinstance(own, dict):
            continue
        for name in list(own):
            values = own[name]
            if not isinstance(values, list) or None not in values:
                continue
            if values[0] is None or values[-1] is None:
                del own[name]
                continue
            last = len(values) - 1
            filled = [
                round(values[0] + (values[-1] - values[0]) * i / last, PLACES) if v is None else v
                for i, v in enumerate(values)
            ]
            own[name] = filled
            found.taken.append(Taken(f"{table}.{name}", "between"))


def _wish_into(tables: dict[str, Any], wished: Card, card: Card | None, strings: int) -> None:
    wish: dict[str, Any] = {}
    for reading in wished.readings.all():
        table = reading.key.split(".", maxsplit=1)[0]
        known = known_tables().get(table)
        if not _takes(reading.key) or table == "state" or known is None or not known.wish:
            continue
        _put(wish, reading.key, reading.place, reading.value, strings, _many(reading.key))
    for table, own in wish.items():
        for name, values in own.items():
            if isinstance(values, list) and None in values:
                base = tables.get(table, {}).get(name) or [None] * strings
                own[name] = [b if v is None else v for v, b in zip(values, base, strict=True)]
    wish = {
        t: {n: v for n, v in own.items() if not (isinstance(v, list) and None in v)}
        for t, own in wish.items()
    }
    for name, word in wished.datums.items():
        table, key = name.split(".")
        if table in wish and (card is None or card.datums.get(name) != word):
            wish[table][key] = word
    wish = {t: own for t, own in wish.items() if own}
    if wish:
        tables["wish"] = wish


@transaction.atomic
def keep_reckoning(
    *,
    row: VisitObject,
    name: str,
    tables: dict[str, Any],
    answer: Any,
    who: Maker,
    word: str = "",
    shown: str = "",
    id=None,
) -> Reckoning:
    """Keep a reckoning with the visit: inputs, result, status, sources, version; it never changes itself.

    ``shown`` is the plain text that stood before the eyes.
    """
    kept = Reckoning(
        visit_object=row,
        name=name,
        inputs=tables,
        answer=envelope(answer, (get_language() or "en")[:2]) | ({"shown": shown} if shown else {}),
        status=answer.status,
        program=__version__,
        at=clock.now(),
        who=who,
        word=word[:300],
    )
    if id is not None:
        kept.id = id
    return keeping.add(kept, who=who)
