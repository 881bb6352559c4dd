"""The page of the hand-over: what holds it back, what is ticked, what is due, found against wished and
left."""

from datetime import timedelta

from django.utils import timezone

from purfling.craft.refusals import Refusal
from purfling.shop.domain import clock
from purfling.shop.domain.handover import EARLIEST, LATEST, check_work_and_tray, look_again_codes
from purfling.shop.domain.tray import part_words
from purfling.shop.domain.work_rules import names_of
from purfling.shop.models import HandOver, LoosePart, Visit
from purfling.shop.queries.card import side_by_side
from purfling.shop.queries.catalogue import language, shop_catalogue
from purfling.shop.queries.work import threads
from purfling.words import refusal_text

USUAL_WEEKS = 4
W = LoosePart.Went


def _held_back(visit: Visit) -> str:
    if not visit.is_open:
        return ""
    try:
        check_work_and_tray(visit)
    except Refusal as refusal:
        return refusal_text(refusal, language())
    return ""


def handover_page(visit: Visit) -> dict[str, object]:
    """A fixed number of queries for each object of the visit, of which there are few."""
    rows = list(visit.rows.select_related("object", "visit__player").prefetch_related("cards__readings"))
    offers = shop_catalogue()
    knots = threads(rows, offers)
    parts = list(LoosePart.objects.filter(visit_object__in=rows).select_related("visit_object__object"))
    for part in parts:
        part.words = part_words(part, part.visit_object.object.family)
    again = look_again_codes(visit)
    today = timezone.localtime(clock.now()).date()
    return {
        "visit": visit,
        "rows": [
            {
                "row": row,
                "knots": knots[row.pk],
                "lines": [x for x in side_by_side(row, language()) if x.found or x.wished or x.left],
                "left": any(c.moment == "left" for c in row.cards.all()),
                "tray": [p for p in parts if p.visit_object_id == row.pk and p.went == W.TRAY],
                "named": [
                    p for p in parts if p.visit_object_id == row.pk and p.went in (W.ENVELOPE, W.NAMED)
                ],
            }
            for row in rows
        ],
        "held_back": _held_back(visit),
        "contents": list(enumerate(visit.contents)),
        "look_again": names_of(offers, again),
        "usual_day": (today + timedelta(weeks=USUAL_WEEKS)).isoformat() if again else "",
        "earliest": (today + EARLIEST).isoformat(),
        "latest": (today + LATEST).isoformat(),
        "given": HandOver.objects.filter(visit=visit).select_related("who").first(),
    }
