"""Post and sound tries: each written down with its words; the way back to any earlier one."""

from typing import Any

from django.db import transaction
from django.db.models import Max

from purfling.craft.quantities import readings
from purfling.craft.refusals import Refusal
from purfling.shop.domain import clock, keeping
from purfling.shop.models import Card, Maker, Reading, Try, VisitObject

PLACE = {"behind_mm": "post.behind_mm", "inside_mm": "post.inside_mm"}


def _check(values: dict[str, Any]) -> None:
    for name, key in PLACE.items():
        value = values.get(name)
        if value is None:
            continue
        low, high = readings()[key].hard_band()
        if not low <= value <= high:
            raise Refusal("work.try_place", value=f"{value:g}", low=f"{low:g}", high=f"{high:g}")
    tight = values.get("tightness")
    if tight is not None and not 1 <= tight <= 5:
        raise Refusal("work.tightness", value=tight)


def _as_found(row: VisitObject, who: Maker) -> None:
    """Try 0 from the card as found, where the post's place was read."""
    rows = Reading.objects.filter(
        card__visit_object=row, card__moment=Card.Moment.FOUND, key__startswith="post."
    )
    by = {r.key: r for r in rows}
    if not by:
        return
    values = {name: by[key].value for name, key in PLACE.items() if key in by}
    if "post.tightness" in by:
        values["tightness"] = round(by["post.tightness"].value)
    at = min(r.at for r in by.values())
    keeping.add(Try(visit_object=row, number=0, at=at, who=who, **values), who=who)


@transaction.atomic
def add_try(*, row: VisitObject, who: Maker, back_to: Try | None = None, id=None, **values: Any) -> Try:
    """One more try; the first brings the place as found with it as number 0.

    Raises
    ------
    Refusal
        Nothing said; a place or a tightness out of range; the visit is handed over.
    """
    if not row.visit.is_open:
        raise Refusal("work.closed", number=row.visit.number)
    if not any(v not in (None, "") for v in values.values()):
        raise Refusal("work.empty_try")
    _check(values)
    VisitObject.objects.select_for_update().get(pk=row.pk)
    if not row.tries.exists():
        _as_found(row, who)
    last = row.tries.aggregate(last=Max("number"))["last"]
    made = Try(visit_object=row, number=(last or 0) + 1, at=clock.now(), who=who, back_to=back_to, **values)
    if id is not None:
        made.id = id
    return keeping.add(made, who=who)


def change_try(*, one: Try, who: Maker, seen: int | None = None, **values: Any) -> Try:
    """The player's word and the verdict usually come after the try."""
    _check(values)
    return keeping.change(one, who=who, seen=seen, **values)


def go_back(*, to: Try, who: Maker) -> Try:
    """The post back to where it stood at an earlier try, as a new try that names it."""
    return add_try(
        row=to.visit_object,
        who=who,
        back_to=to,
        behind_mm=to.behind_mm,
        inside_mm=to.inside_mm,
        tightness=to.tightness,
        what=to.what,
    )
