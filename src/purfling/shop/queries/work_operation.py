"""The page of one operation at the bench."""

from dataclasses import dataclass

from purfling.craft.quantities import readings as known_readings
from purfling.shop.domain.tray import part_words
from purfling.shop.models import Card, LoosePart, Maker, Reading, Work
from purfling.shop.queries.catalogue import language, shop_catalogue
from purfling.shop.queries.work import cautions_of, steps_of, threads
from purfling.shop.words import PART
from purfling.words import UnknownCode, decimal, say


@dataclass(frozen=True)
class Wanted:
    """A figure that is wanted before the hands begin: as found and wished, as text; empty where not taken."""

    name: str
    unit: str
    found: str
    wished: str


def reading_name(key: str) -> str:
    """A reading's trade name in the maker's language."""
    try:
        return say(f"readings.{key}", language())
    except UnknownCode:
        return known_readings()[key].name


def _figures(key: str, readings: list[Reading], moment: str) -> str:
    row = known_readings()[key]
    values = [r for r in readings if r.key == key and r.card.moment == moment]
    return " · ".join(
        decimal(r.value, row.decimals, language()) for r in sorted(values, key=lambda r: r.place)
    )


def wanted_readings(work: Work, keys: tuple[str, ...]) -> list[Wanted]:
    """The figures an operation wants, from the cards of this visit. One query."""
    if not keys:
        return []
    rows = list(
        Reading.objects.filter(card__visit_object=work.visit_object_id, key__in=keys).select_related("card")
    )
    return [
        Wanted(
            reading_name(key),
            known_readings()[key].unit,
            _figures(key, rows, Card.Moment.FOUND),
            _figures(key, rows, Card.Moment.WISHED),
        )
        for key in keys
    ]


def operation_page(work: Work, maker: Maker) -> dict[str, object]:
    """Step card, cautions, wanted readings, parts for the tray, what may be touched."""
    offers = shop_catalogue()
    knots = threads([work.visit_object], offers)[work.visit_object_id]
    knot = next((k for k in knots if k.work.pk == work.pk), None)
    offered = offers.get(work.code)
    row = offered.row if offered else None
    steps = steps_of(work, offered)
    there = LoosePart.objects.filter(visit_object=work.visit_object_id, went=LoosePart.Went.TRAY)
    parts = list(there.filter(part__in=row.back)) if row and row.back else []
    is_owner = maker.role == Maker.Role.OWNER
    return {
        "work": work,
        "knot": knot,
        "row": work.visit_object,
        "steps": steps,
        "open_stops": [s for s in steps if s.stop and s.told is None and not is_owner],
        "cautions": cautions_of(offered),
        "wanted": wanted_readings(work, row.readings if row else ()),
        "lays": [str(PART[p]) for p in row.parts] if row else [],
        "puts": [part_words(p, work.visit_object.object.family) for p in parts],
        "looks": list(work.looks.select_related("who")),
        "mine": work.hands_id == maker.pk,
    }
