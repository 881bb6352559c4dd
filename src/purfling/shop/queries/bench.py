"""The start page: what is in the house by whereabouts, who comes today, what is promised, what is lent."""

from dataclasses import dataclass
from datetime import timedelta

from django.utils import timezone

from purfling.shop.domain import clock
from purfling.shop.models import Loan, Visit, VisitObject

IN = VisitObject.Whereabouts
# From the hand outwards.
ORDER = (IN.BENCH, IN.RACK, IN.HANGING, IN.CLAMPED, IN.SETTLING, IN.READY, IN.LENT_OUT)


@dataclass(frozen=True)
class Bench:
    """What the start page shows. ``house`` pairs whereabouts with their objects, empty ones left out."""

    house: list[tuple[str, list[VisitObject]]]
    coming: list[Visit]
    promised: list[Visit]
    loans: list[Loan]

    @property
    def silent(self) -> bool:
        """Nothing here, nobody comes."""
        return not (self.house or self.coming)

    @property
    def now(self) -> VisitObject | None:
        """What lies nearest to the hand: on the bench, else the rack's earliest promise."""
        by = dict(self.house)
        for where in (IN.BENCH, IN.RACK):
            if by.get(where):
                return min(by[where], key=lambda r: (r.visit.promise_at is None, r.visit.promise_at or 0))
        return None


def on_the_bench() -> Bench:
    """Three queries, whatever is in the book."""
    rows = list(
        VisitObject.objects.exclude(whereabouts=IN.GONE_HOME)
        .exclude(whereabouts=IN.BOOKED)
        .select_related("visit__player", "object__owner")
        .order_by("visit__promise_at", "tag")
    )
    house = [(where, [r for r in rows if r.whereabouts == where]) for where in ORDER]
    today = timezone.localtime(clock.now())
    begin = today.replace(hour=0, minute=0, second=0, microsecond=0)
    open_visits = Visit.objects.filter(closed_at=None).select_related("player")
    coming = list(
        open_visits.filter(
            arrived_at=None, comes_at__gte=begin, comes_at__lt=begin + timedelta(days=1)
        ).order_by("comes_at")
    )
    seen: dict = {}
    for row in rows:
        if row.visit.promise_at is not None:
            seen.setdefault(row.visit_id, row.visit)
    loans = list(Loan.objects.filter(returned_at=None).select_related("player", "visit").order_by("back_at"))
    return Bench(
        house=[(where, those) for where, those in house if those],
        coming=coming,
        promised=sorted(seen.values(), key=lambda v: v.promise_at),
        loans=loans,
    )
