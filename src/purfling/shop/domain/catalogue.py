"""The shop's own catalogue: what differs from the catalogue of operations, an operation of its own, bench
hours."""

from typing import Any

from django.db import transaction
from django.utils.text import slugify

from purfling.craft.operations import FAMILIES, WAITS, catalogue
from purfling.craft.refusals import Refusal
from purfling.shop.domain import keeping
from purfling.shop.models import Maker, ShopHours, ShopOperation
from purfling.slips.hours import bench_hours


def _check(values: dict[str, Any]) -> None:
    for family, minutes in (values.get("minutes") or {}).items():
        if family not in FAMILIES or not 1 <= int(minutes) <= 2400:
            raise Refusal("work.minutes", value=minutes)
    wait = values.get("wait_minutes")
    if wait is not None and not 0 <= int(wait) <= 20000:
        raise Refusal("work.wait", value=wait)
    kind = values.get("wait_kind")
    if kind and kind not in WAITS:
        raise Refusal("work.unknown", name=str(kind)[:40])


@transaction.atomic
def set_operation(*, code: str, who: Maker, seen: int | None = None, **values: Any) -> ShopOperation:
    """The shop's own word on an operation of the catalogue, or on one that it has already made its own.

    Raises
    ------
    Refusal
        No such operation; minutes or a wait out of range.
    """
    _check(values)
    row = ShopOperation.objects.filter(code=code).first()
    if row is None:
        if code not in catalogue():
            raise Refusal("work.unknown", name=code[:40])
        return keeping.add(ShopOperation(code=code, **values), who=who)
    return keeping.change(row, who=who, seen=seen, **values)


@transaction.atomic
def add_operation(*, who: Maker, name: str, of: str, id=None, **values: Any) -> ShopOperation:
    """An operation that only this shop has; its name is one for both languages until another is written.

    Raises
    ------
    Refusal
        No name; the name is taken.
    """
    _check(values)
    name = " ".join(name.split())[:80]
    code = "own_" + slugify(name).replace("-", "_")[:34]
    if not name or code == "own_":
        raise Refusal("work.word_missing")
    if ShopOperation.objects.filter(code=code).exists():
        raise Refusal("book.name_taken", name=name)
    row = ShopOperation(code=code, own=True, of=of, name_en=name, name_de=name, **values)
    if id is not None:
        row.id = id
    return keeping.add(row, who=who)


@transaction.atomic
def set_hours(*, who: Maker, week: dict, closed: list[str], evenings: list) -> ShopHours:
    """When hands work here.

    Raises
    ------
    Refusal
        A weekday, a clock, a day that is none.
    """
    bench_hours(week, closed, evenings, "bench hours")
    row = ShopHours.objects.first()
    if row is None:
        return keeping.add(ShopHours(week=week, closed=closed, evenings=evenings), who=who)
    return keeping.change(row, who=who, week=week, closed=closed, evenings=evenings)
