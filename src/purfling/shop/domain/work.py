"""The work list: put on it, order, strike, a yes for what was found, usual service, as last time."""

from collections.abc import Sequence
from decimal import Decimal

from django.db import transaction

from purfling.craft.refusals import Refusal
from purfling.shop.domain import clock, keeping
from purfling.shop.domain.work_rules import class_refusal, kind_refusal, name_of, overruled
from purfling.shop.models import Maker, VisitObject, Work
from purfling.shop.queries.catalogue import Offered, shop_catalogue
from purfling.shop.queries.work_log import planned

S = Work.State


def _open_row(row: VisitObject) -> None:
    VisitObject.objects.select_for_update().get(pk=row.pk)  # one writer of a list at a time
    if not row.visit.is_open:
        raise Refusal("work.closed", number=row.visit.number)


def list_of(row: VisitObject) -> list[Work]:
    """Everything on an object's list, in its order, locked until the transaction ends."""
    return list(Work.objects.select_for_update().filter(visit_object=row).order_by("place", "id"))


def _place_for(code: str, others: Sequence[Work], offers: dict[str, Offered]) -> float:
    """Behind everything that comes earlier in the order of work."""
    wanted = offers[code].place
    earlier = [
        w.place for w in others if w.state != S.STRUCK and w.code in offers and offers[w.code].place <= wanted
    ]
    later = [w.place for w in others if w.place > max(earlier, default=0.0)]
    low = max(earlier, default=0.0)
    return (low + min(later)) / 2 if later else low + 100.0


@transaction.atomic
def add_work(
    *,
    row: VisitObject,
    code: str,
    who: Maker | None,
    word: str = "",
    note: str = "",
    found: bool = False,
    price: Decimal | None = None,
    id=None,
    offers: dict[str, Offered] | None = None,
) -> Work:
    """Put an operation on an object's list, at its place in the order of work.

    ``found``: found while working; it needs a recorded yes. ``word`` overrules the object's class.

    Raises
    ------
    Refusal
        Not in the catalogue, not for this object, breaks its class, visit handed over.
    """
    _open_row(row)
    offers = offers or shop_catalogue()
    thing = row.object
    wrong = kind_refusal(thing, offers, code)
    if wrong is not None:
        raise wrong
    offered = offers[code]
    by = who if who is not None else Maker()
    lifted = overruled(class_refusal(thing, offered), word, by)
    plan = planned(offered, thing.family)
    work = Work(
        visit_object=row,
        code=code,
        place=_place_for(code, list_of(row), offers),
        state=S.ASKED if found else S.LISTED,
        minutes=plan.minutes,
        wait_kind=offered.wait_kind,
        wait_minutes=plan.wait_minutes,
        price=price if price is not None else offered.price,
        note=note[:300],
        found=found,
        overruled=lifted,
        overruled_by=who if lifted else None,
    )
    if id is not None:
        work.id = id
    return keeping.add(work, who=who, because=lifted)


@transaction.atomic
def add_usual(*, row: VisitObject, who: Maker) -> tuple[list[Work], list[str]]:
    """The usual service in one touch: what is not on the list yet. Returns it and the names left out by
    class."""
    _open_row(row)
    offers = shop_catalogue()
    thing = row.object
    there = {w.code for w in list_of(row) if w.state != S.STRUCK}
    left_out: list[str] = []
    added: list[Work] = []
    for offered in offers.values():
        if not offered.usual or offered.off or offered.code in there:
            continue
        if not offered.is_for(thing.kind, thing.family):
            continue
        if class_refusal(thing, offered) is not None:
            left_out.append(offered.name)
            continue
        added.append(add_work(row=row, code=offered.code, who=who, offers=offers))
    return added, left_out


@transaction.atomic
def add_as_last_time(*, row: VisitObject, who: Maker) -> tuple[list[Work], list[str]]:
    """What was done at the object's last visit that had a work list."""
    last = (
        VisitObject.objects.filter(
            object=row.object_id, visit__number__lt=row.visit.number, work__state=S.DONE
        )
        .order_by("-visit__number")
        .first()
    )
    if last is None:
        raise Refusal("work.no_last_time")
    offers = shop_catalogue()
    there = {w.code for w in list_of(row) if w.state != S.STRUCK}
    added, left_out = [], []
    for code in last.work.filter(state=S.DONE, found=False).order_by("place").values_list("code", flat=True):
        if code in there or code not in offers:
            continue
        if class_refusal(row.object, offers[code]) is not None:
            left_out.append(offers[code].name)
            continue
        added.append(add_work(row=row, code=code, who=who, offers=offers))
    return added, left_out


@transaction.atomic
def move_work(*, work: Work, earlier: bool, who: Maker, seen: int | None = None, word: str = "") -> Work:
    """One place earlier or later on the list; against the order of work only with the owner's word.

    Raises
    ------
    Refusal
        It would stand before what it waits for, or behind what waits for it.
    """
    rows = [w for w in list_of(work.visit_object) if w.state != S.STRUCK]
    at = next(i for i, w in enumerate(rows) if w.pk == work.pk)
    other = at - 1 if earlier else at + 1
    if not 0 <= other < len(rows):
        return work
    offers = shop_catalogue()
    first, second = (rows[at], rows[other]) if earlier else (rows[other], rows[at])
    refusal = None
    if first.code in offers and second.code in offers[first.code].after and second.is_open:
        refusal = Refusal("work.order", name=name_of(offers, first.code), others=name_of(offers, second.code))
    lifted = overruled(refusal, word, who)
    mine, theirs = rows[at].place, rows[other].place
    keeping.change(rows[other], who=who, place=mine)
    also = {"overruled": lifted, "overruled_by": who} if lifted else {}
    return keeping.change(work, who=who, seen=seen, because=lifted, place=theirs, **also)


@transaction.atomic
def strike_work(*, work: Work, who: Maker, seen: int | None = None, word: str = "") -> Work:
    """Off the list; what was begun stays."""
    current = Work.objects.select_for_update().get(pk=work.pk)
    if current.state not in (S.LISTED, S.ASKED):
        raise Refusal("work.struck_done", name=name_of(shop_catalogue(), work.code))
    return keeping.change(work, who=who, seen=seen, because=word[:300], state=S.STRUCK)


@transaction.atomic
def answer_work(*, work: Work, yes: bool, said: str, who: Maker, seen: int | None = None) -> Work:
    """The player's yes or no to what was found while working: who said it, and how."""
    said = " ".join(said.split())[:300]
    if not said:
        raise Refusal("work.yes_from")
    current = Work.objects.select_for_update().get(pk=work.pk)
    if current.state != S.ASKED:
        return current
    state = S.LISTED if yes else S.STRUCK
    return keeping.change(work, who=who, seen=seen, state=state, yes=said, yes_at=clock.now())


def change_work(*, work: Work, who: Maker, seen: int | None = None, **values: object) -> Work:
    """Its planned minutes, wait, note, recipe."""
    minutes, wait = values.get("minutes"), values.get("wait_minutes")
    if minutes is not None and not 1 <= int(minutes) <= 2400:
        raise Refusal("work.minutes", value=minutes)
    if wait is not None and not 0 <= int(wait) <= 20000:
        raise Refusal("work.wait", value=wait)
    return keeping.change(work, who=who, seen=seen, **values)
