"""What is left in the house laid on the bench hours: ready when, and whom a later wait hits."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from django.utils import timezone

from purfling.planning.house import HousePlan, HouseWork, hit_by, lay_house
from purfling.shop.domain import clock
from purfling.shop.models import Visit, Work
from purfling.shop.queries.catalogue import Offered, not_before, shop_catalogue, shop_hours

S = Work.State
LEAST_LEFT = 5  # minutes that what is in hand still takes at least


@dataclass(frozen=True)
class Hit:
    """A visit that is ready later; ``breaks`` when its promise is not kept any more."""

    visit: Visit
    before: datetime
    after: datetime

    @property
    def breaks(self) -> bool:
        """Whether the promise is broken by it."""
        return self.visit.promise_at is not None and _local(self.visit.promise_at) < self.after


def _local(moment: datetime) -> datetime:
    return timezone.localtime(moment).replace(tzinfo=None)


def open_work() -> list[Work]:
    """Everything open of visits that are here. One query."""
    return list(
        Work.objects.filter(
            state__in=[S.LISTED, S.HAND, S.DOWN, S.WAITING],
            visit_object__visit__closed_at=None,
            visit_object__visit__arrived_at__isnull=False,
        )
        .select_related("visit_object__visit__player", "visit_object__object", "hands")
        .order_by("visit_object__visit__promise_at", "visit_object__visit__number", "place")
    )


def left_minutes(work: Work, now: datetime) -> int:
    """Hands-on minutes still to do."""
    if work.state == S.WAITING:
        return 0
    spent = work.spent_s + ((now - work.since).total_seconds() if work.since else 0)
    if not spent:
        return work.minutes
    return max(LEAST_LEFT, round(work.minutes - spent / 60))


def _laid_down(offers: dict[str, Offered], work: Work) -> bool:
    row = offers[work.code].row if work.code in offers else None
    return bool(row and row.laid_down)


def house_work(works: list[Work], offers: dict[str, Offered], now: datetime) -> list[HouseWork]:
    """The open operations as the plan takes them."""
    by_object: dict = {}
    for work in works:
        by_object.setdefault(work.visit_object_id, []).append(work)
    found = []
    for work in works:
        visit = work.visit_object.visit
        others = by_object[work.visit_object_id]
        wanted = set(not_before(offers, work.code))
        soft = bool(work.code in offers and offers[work.code].row and offers[work.code].row.soft)
        after = [
            w.pk
            for w in others
            if w.pk != work.pk
            and (w.code in wanted or (soft and w.wait_kind == "varnish" and w.place < work.place))
        ]
        waiting = work.state == S.WAITING
        found.append(
            HouseWork(
                id=str(work.pk),
                visit=str(visit.pk),
                minutes=left_minutes(work, now),
                wait_min=0 if waiting else work.wait_minutes,
                after=tuple(str(a) for a in after),
                not_before=_local(work.look_at) if waiting and work.look_at else None,
                due=_local(visit.promise_at) if visit.promise_at else None,
                in_hand=work.state == S.HAND,
                laid_down=work.state in (S.HAND, S.DOWN) or _laid_down(offers, work),
            )
        )
    return found


def house_plan(works: list[Work] | None = None, offers: dict[str, Offered] | None = None) -> HousePlan:
    """The plan of this moment; three queries where nothing is handed in."""
    now = clock.now()
    works = open_work() if works is None else works
    offers = offers or shop_catalogue()
    return lay_house(house_work(works, offers, now), _local(now), shop_hours())


def whom_it_hits(before: HousePlan, after: HousePlan) -> list[Hit]:
    """The visits that are ready later, those whose promise breaks first."""
    hits = hit_by(before, after)
    visits = {str(v.pk): v for v in Visit.objects.filter(pk__in=list(hits)).select_related("player")}
    found = [Hit(visits[v], a, b) for v, (a, b) in hits.items() if b - a >= timedelta(minutes=1)]
    return sorted(found, key=lambda h: (not h.breaks, h.after))
