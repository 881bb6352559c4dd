"""Visits: book, receive, change, move, lend, hand over."""

from collections.abc import Sequence
from datetime import datetime

from django.db import transaction
from django.db.models import Max

from purfling.craft.refusals import Refusal
from purfling.shop.domain import clock, keeping
from purfling.shop.models import Loan, Maker, Object, Player, Shop, Visit, VisitObject

IN = VisitObject.Whereabouts


def _next_number() -> int:
    Shop.objects.select_for_update().first()  # one running number at a time, on PostgreSQL as well
    return (Visit.objects.aggregate(last=Max("number"))["last"] or 0) + 1


@transaction.atomic
def book_visit(
    *, player: Player, objects: Sequence[Object], who: Maker | None, id=None, **values: object
) -> Visit:
    """A visit that is expected: who comes when, with what."""
    if player.forgotten:
        raise Refusal("book.forgotten")
    visit = Visit(player=player, number=_next_number(), **values)
    if id is not None:
        visit.id = id
    keeping.add(visit, who=who)
    for thing in objects:
        add_object_to_visit(visit=visit, thing=thing, who=who)
    return visit


@transaction.atomic
def add_object_to_visit(
    *,
    visit: Visit,
    thing: Object,
    who: Maker | None,
    tag: str = "",
    whereabouts: str = IN.BOOKED,
    place: str = "",
    id=None,
) -> VisitObject:
    """One more object in a visit.

    Raises
    ------
    Refusal
        It is in the house already under another visit, or the visit is handed over.
    """
    if not visit.is_open:
        raise Refusal("book.visit_closed", number=visit.number)
    other = thing.visits.exclude(whereabouts__in=[IN.GONE_HOME, IN.BOOKED]).select_related("visit").first()
    if other is not None:
        raise Refusal("book.in_the_house", number=other.visit.number)
    if tag:
        _check_tag(tag, None)
    row = VisitObject(visit=visit, object=thing, tag=tag, whereabouts=whereabouts, place=place)
    if id is not None:
        row.id = id
    return keeping.add(row, who=who)


def _check_tag(tag: str, own: VisitObject | None) -> None:
    rows = VisitObject.objects.filter(tag=tag).exclude(whereabouts=IN.GONE_HOME)
    if own is not None:
        rows = rows.exclude(pk=own.pk)
    if rows.exists():
        raise Refusal("book.tag_taken", tag=tag)


@transaction.atomic
def receive_visit(
    *, visit: Visit, who: Maker, tags: dict[str, str] | None = None, place: str = "", **values: object
) -> Visit:
    """The arrival: the things are here, each with its numbered tag and its whereabouts from now on.

    ``tags`` maps the id of a visit's object to the tag tied to it; one that has none gets the next free.
    """
    if not visit.is_open:
        raise Refusal("book.visit_closed", number=visit.number)
    visit = keeping.change(visit, who=who, arrived_at=visit.arrived_at or clock.now(), **values)
    for row in visit.rows.order_by("-object__kind", "object__family", "id"):  # instruments first
        tag = (tags or {}).get(str(row.pk), "") or row.tag or next_tag()
        _check_tag(tag, row)
        where = IN.RACK if row.whereabouts == IN.BOOKED else row.whereabouts
        keeping.change(row, who=who, tag=tag, whereabouts=where, place=place or row.place)
    return visit


def next_tag() -> str:
    """The lowest numbered tag that hangs on nothing in the house."""
    taken = set(
        VisitObject.objects.exclude(whereabouts=IN.GONE_HOME).exclude(tag="").values_list("tag", flat=True)
    )
    number = 1
    while str(number) in taken:
        number += 1
    return str(number)


def change_visit(*, visit: Visit, who: Maker, seen: int | None = None, **values: object) -> Visit:
    """Change the complaint, the promise, the contents of the case and the like."""
    return keeping.change(visit, who=who, seen=seen, **values)


def move_object(*, row: VisitObject, to: str, who: Maker, place: str = "", seen: int | None = None):
    """An object of a visit is somewhere else from now on."""
    if to not in IN.values:
        raise Refusal("book.no_such_place", place=to[:40])
    if row.visit.arrived_at is None and to not in (IN.BOOKED, IN.GONE_HOME):
        raise Refusal("book.not_arrived", number=row.visit.number)
    return keeping.change(row, who=who, seen=seen, whereabouts=to, place=place)


def lend(
    *,
    visit: Visit,
    what: str,
    who: Maker,
    back_at: datetime | None = None,
    thing: Object | None = None,
) -> Loan:
    """Lend something to the player of a visit until theirs is ready."""
    if not what.strip():
        raise Refusal("book.lend_nothing")
    loan = Loan(
        visit=visit, player=visit.player, object=thing, what=what.strip(), out_at=clock.now(), back_at=back_at
    )
    return keeping.add(loan, who=who)


def take_back(*, loan: Loan, who: Maker) -> Loan:
    """What was lent is back."""
    return keeping.change(loan, who=who, returned_at=loan.returned_at or clock.now())


@transaction.atomic
def close_visit(*, visit: Visit, who: Maker) -> Visit:
    """Everything of the visit has gone home.

    Raises
    ------
    Refusal
        Handed over already; work is open or a part lies in a tray.
    """
    from purfling.shop.domain.handover import check_work_and_tray
    from purfling.shop.domain.survey import freeze_surveys_of_visit

    if not visit.is_open:
        raise Refusal("book.visit_closed", number=visit.number)
    check_work_and_tray(visit)
    freeze_surveys_of_visit(visit=visit, who=who)
    for row in visit.rows.all():
        keeping.change(row, who=who, whereabouts=IN.GONE_HOME, place="")
    return keeping.change(visit, who=who, closed_at=clock.now())
