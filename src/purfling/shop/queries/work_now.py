"""What now: what is in hand, what should be looked at, what fits this wait."""

from dataclasses import dataclass, field
from datetime import datetime

from django.utils import timezone

from purfling.planning.calendar import BenchHours
from purfling.planning.house import HousePlan, lay_house
from purfling.shop.domain import clock
from purfling.shop.models import Maker, Work
from purfling.shop.queries.catalogue import shop_catalogue, shop_hours
from purfling.shop.queries.work import Knot, knots_of
from purfling.shop.queries.work_plan import house_work, left_minutes, open_work

S = Work.State
MOST = 6


@dataclass(frozen=True)
class WhatNow:
    """``line`` is the one thing to do now; ``next`` what fits; ``waits`` what hangs, the first to be looked
    at first."""

    in_hand: list[Knot] = field(default_factory=list)
    due: list[Knot] = field(default_factory=list)
    next: list[Knot] = field(default_factory=list)
    waits: list[Knot] = field(default_factory=list)
    others: list[Knot] = field(default_factory=list)
    until: datetime | None = None
    fits: frozenset = frozenset()
    works: list[Work] = field(default_factory=list)
    plan: HousePlan | None = None
    hours: BenchHours | None = None

    @property
    def line(self) -> Knot | None:
        """In hand, else what is due to be looked at, else what fits best."""
        for those in (self.in_hand, self.due, self.next):
            if those:
                return those[0]
        return None


def what_now(maker: Maker) -> WhatNow:
    """Three queries, whatever is in the house."""
    now = clock.now()
    offers, hours, works = shop_catalogue(), shop_hours(), open_work()
    by_object: dict = {}
    for work in works:
        by_object.setdefault(work.visit_object_id, []).append(work)
    knots = [k for those in by_object.values() for k in knots_of(those, offers)]
    plan = lay_house(house_work(works, offers, now), timezone.localtime(now).replace(tzinfo=None), hours)
    waits = sorted((k for k in knots if k.work.state == S.WAITING), key=lambda k: k.work.look_at)
    due = [k for k in waits if k.is_due]
    coming = [k for k in waits if not k.is_due]
    until = coming[0].work.look_at if coming else None
    resting = {k.work.visit_object_id for k in waits}
    ready = [k for k in knots if k.startable]
    gap = (until - now).total_seconds() / 60 if until else None
    fits = {k.work.pk for k in ready if gap is None or left_minutes(k.work, now) <= gap}

    def rank(knot: Knot) -> tuple:
        fit = knot.work.pk in fits
        away = not knot.needs_object if gap is not None else False
        start = plan.pieces[str(knot.work.pk)][0][0]
        return (not fit, not away, knot.work.state != S.DOWN, knot.work.visit_object_id in resting, start)

    return WhatNow(
        in_hand=[k for k in knots if k.work.state == S.HAND and k.work.hands_id == maker.pk],
        others=[k for k in knots if k.work.state == S.HAND and k.work.hands_id != maker.pk],
        due=due,
        next=sorted(ready, key=rank)[:MOST],
        waits=waits,
        until=until,
        fits=frozenset(fits),
        works=works,
        plan=plan,
        hours=hours,
    )
