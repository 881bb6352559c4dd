"""Writing a record: the row and its line of history in one transaction, and a second writer is told."""

from collections.abc import Iterable
from typing import Any, TypeVar

from django.core.serializers.json import DjangoJSONEncoder
from django.db import models, transaction

from purfling.craft.refusals import Refusal
from purfling.shop.domain import clock, ids
from purfling.shop.models import Change, Maker
from purfling.shop.models.record import Record

R = TypeVar("R", bound=Record)
NOT_TOLD = frozenset(
    {"id", "version", "find", "password", "last_login", "first_code", "first_tries", "unfinished"}
)
_plain = DjangoJSONEncoder().default


class Stale(Refusal):
    """Somebody else wrote this record meanwhile; both versions are at hand.

    ``mine`` and ``theirs`` map each field that differs to its value.
    """

    def __init__(self, current: Record, mine: dict[str, Any], theirs: dict[str, Any]) -> None:
        last = Change.objects.filter(record=current.pk).order_by("-version").select_related("who").first()
        self.current = current
        self.mine = mine
        self.theirs = theirs
        self.who = last.who if last else None
        self.at = last.at if last else None
        fields = ", ".join(sorted(theirs)) or "-"
        super().__init__("book.stale", who=str(self.who or "?"), fields=fields)


def told_fields(record: Record) -> list[models.Field]:
    """The fields whose values the history keeps (not the bytes of a paper: its hash is kept)."""
    fields = record._meta.concrete_fields
    return [f for f in fields if f.name not in NOT_TOLD and not isinstance(f, models.BinaryField)]


def as_told(record: Record) -> dict[str, Any]:
    """The record's values as the history keeps them: plain JSON."""
    found: dict[str, Any] = {}
    for field in told_fields(record):
        value = getattr(record, field.attname)
        if not isinstance(value, str | int | float | bool | list | dict | type(None)):
            value = _plain(value)
        found[field.name] = value
    return found


def difference(before: dict[str, Any], after: dict[str, Any]) -> tuple[dict[str, Any], dict[str, Any]]:
    """The fields that differ, before and after."""
    keys = [k for k in after if before.get(k) != after[k]]
    return {k: before.get(k) for k in keys}, {k: after[k] for k in keys}


def _write_change(record: Record, who: Maker | None, before: dict, after: dict, because: str) -> None:
    Change.objects.create(
        what=record._meta.model_name,
        record=record.pk,
        version=record.version,
        at=clock.now(),
        who=who,
        before=before,
        after=after,
        because=because,
    )


@transaction.atomic(savepoint=False)
def add(record: R, *, who: Maker | None, because: str = "") -> R:
    """Add a new record with the first line of its history."""
    record.id = ids.from_seed() or record.id
    record.version = 1
    record.save(force_insert=True)
    told = {k: v for k, v in as_told(record).items() if v not in (None, "", [], {})}
    _write_change(record, who, {}, told, because)
    return record


@transaction.atomic
def change(record: R, *, who: Maker | None, seen: int | None = None, because: str = "", **values: Any) -> R:
    """Change fields of a record; nothing is written where nothing differs.

    Parameters
    ----------
    record : Record
        The record as the caller has it; it is fetched anew inside the transaction.
    who : Maker or None
        Who changes it.
    seen : int, optional
        The version that the writer had before the eyes (a form's hidden field).

    Raises
    ------
    Stale
        Somebody wrote another version meanwhile and at least one field differs from what is wished now.
    """
    current = record._meta.model.objects.select_for_update().get(pk=record.pk)
    before = as_told(current)
    unseen = {n for n in values if n in NOT_TOLD}
    meanwhile = _meanwhile(current, seen)
    for name, value in values.items():
        setattr(current, name, value)
    wished = difference(before, as_told(current))[1]
    # What the writer left as it was before the eyes is not the writer's: the other's word stays.
    kept = {n for n, old in meanwhile.items() if n in wished and wished[n] == old}
    clash = {n: wished[n] for n in wished if n in meanwhile and n not in kept}
    if clash:
        theirs = {n: before[n] for n in clash}
        raise Stale(record._meta.model.objects.get(pk=record.pk), clash, theirs)
    after = {n: v for n, v in wished.items() if n not in kept}
    if not after and not unseen:
        return record._meta.model.objects.get(pk=record.pk) if kept else current
    for name in kept:
        setattr(current, name, _as_field(current, name, before[name]))
    current.version += 1
    derived = ["find"] if hasattr(current, "find") else []
    current.save(update_fields=[*(n for n in values if n not in kept), "version", *derived])
    if after:
        _write_change(current, who, {n: before[n] for n in after}, after, because)
    return current


def _meanwhile(current: Record, seen: int | None) -> dict[str, Any]:
    """What was changed after the version the writer saw: field -> its value at that version."""
    if seen is None or seen == current.version:
        return {}
    found: dict[str, Any] = {}
    lines = Change.objects.filter(record=current.pk, version__gt=seen).order_by("version", "id")
    for line in lines:
        for name in line.after:
            found.setdefault(name, line.before.get(name))
    return found


def _as_field(record: Record, name: str, told: Any) -> Any:
    return record._meta.get_field(name).to_python(told)


def history_of(ids: Iterable[Any]) -> models.QuerySet[Change]:
    """The lines of history of some records, the newest first."""
    return Change.objects.filter(record__in=list(ids)).select_related("who").order_by("-at", "-id")


@transaction.atomic
def remove(record: Record, *, who: Maker | None, because: str = "") -> None:
    """Take a record out of the book; its last values stay in the history."""
    current = record._meta.model.objects.select_for_update().get(pk=record.pk)
    told = {k: v for k, v in as_told(current).items() if v not in (None, "", [], {})}
    current.version += 1
    _write_change(current, who, told, {}, because)
    current.delete()
