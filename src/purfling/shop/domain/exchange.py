"""A visit as a slip, and a slip as a visit: the same numbers both ways."""

from datetime import datetime
from typing import Any

from django.db import transaction
from django.utils import timezone

from purfling.craft.quantities import readings
from purfling.craft.refusals import Refusal
from purfling.shop.asked import STRINGS
from purfling.shop.domain import clock, keeping
from purfling.shop.domain.card import begin_card, take_reading
from purfling.shop.domain.object import add_object
from purfling.shop.domain.player import add_player
from purfling.shop.domain.visit import book_visit, receive_visit
from purfling.shop.models import Card, Maker, Object, Reading, Visit, VisitObject
from purfling.slips.known import known_tables
from purfling.slips.reader import Slip

OVERLAY = {"found": None, "wished": "wish", "left": "left"}


def _moment(at: datetime | None) -> str | None:
    return None if at is None else timezone.localtime(at).strftime("%Y-%m-%dT%H:%M")


def _given(**values: Any) -> dict[str, Any]:
    return {k: v for k, v in values.items() if v not in (None, "", [])}


def _rows_of(visit: Visit) -> dict[str, VisitObject]:
    """The instrument and the bow of a visit."""
    found: dict[str, VisitObject] = {}
    for row in visit.rows.select_related("object").order_by("tag", "id"):
        word = "bow" if row.object.is_bow else "instrument"
        if word in found:
            raise Refusal("book.visit_of_many", number=visit.number)
        found[word] = row
    return found


def export_visit(*, visit: Visit) -> dict[str, Any]:
    """The tables of a visit's slip: first name only, no address, no value, no money.

    Raises
    ------
    Refusal
        The visit holds two instruments or two bows: a slip holds one of each.
    """
    tables: dict[str, Any] = {"slip": {"kind": "visit", "version": 1}}
    tables["visit"] = _given(
        number=visit.number,
        arrives=_moment(visit.arrived_at or visit.comes_at),
        concert=_moment(visit.concert_at),
        handed_over=_moment(visit.closed_at),
        complaint=visit.complaint,
        question=visit.question,
        contents=list(visit.contents),
    )
    if visit.player.first_name:
        tables["player"] = {"first_name": visit.player.first_name}
    if visit.promise_at:
        tables["promise"] = {"at": _moment(visit.promise_at)}
    for word, row in _rows_of(visit).items():
        _identity_into(tables, word, row)
        for card in sorted(row.cards.all(), key=lambda c: list(OVERLAY).index(c.moment)):
            _card_into(tables, word, row.object, card)
    return tables


def _identity_into(tables: dict[str, Any], word: str, row: VisitObject) -> None:
    thing = row.object
    about = _given(
        id=str(thing.pk),
        label=thing.label,
        tag=row.tag,
        called=thing.nickname,
        size=thing.size,
        **{"class": thing.treat_as},
    )
    if word == "instrument":
        tables["instrument"] = about
        tables["body"] = {"family": thing.family}
    else:
        tables["bow_identity"] = about | {"family": thing.family}


def _card_into(tables: dict[str, Any], word: str, thing: Object, card: Card) -> None:
    overlay = OVERLAY[card.moment]
    own = tables if overlay is None else tables.setdefault(overlay, {})
    tables.setdefault("card_of", []).append(
        _given(
            object=word,
            moment=card.moment,
            kind=card.kind,
            at=_moment(card.at),
            tension=card.tension,
            datums=dict(card.datums),
        )
    )
    rows = list(card.readings.order_by("key", "place"))
    by_key: dict[str, list[Reading]] = {}
    for row in rows:
        by_key.setdefault(row.key, []).append(row)
    for key, figures in by_key.items():
        if _fits(key, figures, thing, overlay):
            table, name = key.split(".", maxsplit=1)
            values = [f.value for f in figures]
            own.setdefault(table, {})[name] = values if readings()[key].many else values[0]
        else:
            tables.setdefault("reading", []).extend(_odd(word, card, f) for f in figures)
    if overlay is None and word == "instrument":
        own.setdefault("state", {})["tension"] = card.tension
        if card.strings:
            tables["strings"] = card.strings
    for name, choice in card.datums.items():
        table, key = name.split(".")
        if table in own and isinstance(own[table], dict):
            own[table][key] = choice
    if not own and overlay:
        tables.pop(overlay)


def _fits(key: str, figures: list[Reading], thing: Object, overlay: str | None) -> bool:
    """Whether a reading's own table holds it: all its strings, no inches, a table of that overlay."""
    table, name = key.split(".", maxsplit=1)
    known = known_tables().get(table)
    if known is None or name not in known.keys or known.many or any(f.entered for f in figures):
        return False
    if overlay is not None and not known.wish:
        return False
    if thing.is_bow and table == "state":
        return False
    return len(figures) == (len(STRINGS[thing.family]) if readings()[key].many else 1)


def _odd(word: str, card: Card, figure: Reading) -> dict[str, Any]:
    return _given(
        object=word,
        moment=card.moment,
        key=figure.key,
        place=figure.place,
        value=figure.value,
        entered=figure.entered,
    ) | {"place": figure.place}


@transaction.atomic
def import_visit(*, slip: Slip, who: Maker) -> Visit:
    """A new visit from a slip, with its objects (found again by their id where the book has them) and cards.

    Raises
    ------
    Refusal
        As every verb it calls; then nothing of the slip is in the book.
    """
    about = slip.table("visit")
    arrived = about.moment("arrives")
    at = timezone.make_aware(arrived) if arrived else clock.now()
    with clock.held(at):
        things = _things_of(slip, who)
        if not things:
            raise Refusal("book.slip_without_object")
        first = next(iter(things.values()))
        player = first.owner or add_player(who=who, first_name=slip.table("player").text("first_name") or "?")
        for thing in things.values():
            if thing.owner_id is None:
                keeping.change(thing, who=who, owner=player)
        visit = book_visit(
            player=player,
            objects=list(things.values()),
            who=who,
            complaint=about.text("complaint") or "",
            question=about.text("question") or "",
            contents=about.texts("contents"),
            concert_at=_aware(about.moment("concert")),
            promise_at=_aware(slip.table("promise").moment("at")),
            comes_at=at,
        )
        visit = receive_visit(visit=visit, who=who)
        rows = {("bow" if r.object.is_bow else "instrument"): r for r in visit.rows.select_related("object")}
        _cards_of(slip, rows, who)
    return visit


def _aware(at: datetime | None) -> datetime | None:
    return None if at is None else timezone.make_aware(at)


def _things_of(slip: Slip, who: Maker) -> dict[str, Object]:
    found: dict[str, Object] = {}
    for word, table in (("instrument", "instrument"), ("bow", "bow_identity")):
        if not slip.has(table) and not (word == "instrument" and slip.family):
            continue
        about = slip.table(table)
        there = _by_id(about.text("id"))
        if there is not None:
            found[word] = there
            continue
        family = slip.family if word == "instrument" else about.choice("family")
        found[word] = add_object(
            who=who,
            kind=word,
            family=family or slip.family or "violin",
            label=about.text("label") or "",
            nickname=about.text("called") or "",
            size=about.text("size") or "4/4",
            treat_as=about.choice("class") or "working",
        )
    return found


def _by_id(text: str | None) -> Object | None:
    from uuid import UUID

    try:
        return Object.objects.select_related("owner").filter(pk=UUID(text)).first() if text else None
    except ValueError:
        return None


def _cards_of(slip: Slip, rows: dict[str, VisitObject], who: Maker) -> None:
    told = slip.rows("card_of")
    for view in told:
        word, moment = view.need_choice("object"), view.need_choice("moment")
        if word in rows:
            _one_card(slip, rows[word], word, moment, view, who)
    if not told and "instrument" in rows:
        for moment, overlay in OVERLAY.items():
            if overlay is None or overlay in slip.tables:
                _one_card(slip, rows["instrument"], "instrument", moment, None, who)


def _one_card(slip: Slip, row: VisitObject, word: str, moment: str, view: Any, who: Maker) -> None:
    datums = dict(view.data.get("datums", {})) if view else _datums_in(slip.tables)
    tension = (view.choice("tension") if view else slip.table("state").choice("tension")) or "strung"
    kind = view.choice("kind") if view else None
    at = view.moment("at") if view else None
    with clock.held(_aware(at) or clock.now()):
        card = begin_card(
            row=row,
            moment=moment,
            kind=kind or "full",
            who=who,
            tension=tension,
            datums=datums,
            strings=list(slip.tables.get("strings", [])) if word == "instrument" else [],
        )
        for key, place, text in _figures_in(slip, word, moment):
            take_reading(card=card, key=key, place=place, text=text, who=who)


def _datums_in(tables: Any) -> dict[str, str]:
    from purfling.shop.domain.card import CHOICES

    found = {}
    for name in CHOICES:
        table, key = name.split(".")
        value = tables.get(table, {})
        if isinstance(value, dict) and isinstance(value.get(key), str):
            found[name] = value[key]
    return found


def _figures_in(slip: Slip, word: str, moment: str) -> list[tuple[str, int, str]]:
    overlay = OVERLAY[moment]
    tables = slip.tables if overlay is None else slip.tables.get(overlay, {})
    bow = word == "bow"
    found: list[tuple[str, int, str]] = []
    for key, reading in readings().items():
        table, name = key.split(".", maxsplit=1)
        if (table in ("bow", "hair")) != bow:
            continue
        value = tables.get(table, {}).get(name) if isinstance(tables.get(table), dict) else None
        if value is None:
            continue
        for place, one in enumerate(value if isinstance(value, list) else [value]):
            if not isinstance(one, int | float) or isinstance(one, bool):
                raise Refusal("slips.not_a_number", field=key, value=str(one)[:40], unit=reading.unit or "1")
            found.append((key, place, _typed(one)))
    for view in slip.rows("reading"):
        if view.choice("object") == word and view.choice("moment") == moment:
            entered = view.text("entered")
            place = int(view.number("place") or 0)
            found.append((view.need_text("key"), place, entered or _typed(view.need_number("value"))))
    return found


def _typed(value: float) -> str:
    """A number as it would be typed, no digit lost."""
    text = f"{value:.4f}".rstrip("0").rstrip(".")
    return text if text not in ("-0", "") else "0"
