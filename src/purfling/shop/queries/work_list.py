"""The page of one object's work list."""

from decimal import Decimal

from purfling.shop.domain.work_rules import class_refusal, wait_words
from purfling.shop.models import VisitObject, Work
from purfling.shop.queries.catalogue import shop_catalogue
from purfling.shop.queries.work import threads

S = Work.State


def list_page(row: VisitObject) -> dict[str, object]:
    """Thread, what may be added, sums; five queries at most."""
    offers = shop_catalogue()
    siblings = list(row.visit.rows.select_related("object"))
    knots = threads(siblings, offers)
    mine = knots[row.pk]
    thing = row.object
    offered = [
        (o, class_refusal(thing, o) is not None)
        for o in sorted(offers.values(), key=lambda o: o.place)
        if o.is_for(thing.kind, thing.family) and not o.off
    ]
    last = (
        VisitObject.objects.filter(object=thing, visit__number__lt=row.visit.number, work__state=S.DONE)
        .exclude(pk=row.pk)
        .exists()
    )
    prices = [k.work.price for k in mine if k.work.price is not None]
    return {
        "row": row,
        "visit": row.visit,
        "siblings": [(r, len(knots[r.pk])) for r in siblings],
        "knots": mine,
        "offered": offered,
        "last": last,
        "hands": wait_words(sum(k.work.minutes for k in mine)),
        "price": sum(prices, Decimal(0)) if prices else None,
    }
