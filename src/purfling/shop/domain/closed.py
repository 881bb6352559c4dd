"""Do not touch: places and tasks closed by the owner, with a reason."""

from typing import Any

from django.db import transaction

from purfling.craft.refusals import Refusal
from purfling.craft.varnish.meets import tasks as all_tasks
from purfling.shop.domain import clock, keeping
from purfling.shop.domain.varnish_place import check_owner, check_place, reason_of
from purfling.shop.models import ClosedPlace, Maker, Object

MOST_TASKS = 20


@transaction.atomic
def close_place(
    *,
    thing: Object,
    who: Maker,
    reason: str,
    whole: bool = False,
    tasks: list[str] | None = None,
    id=None,
    **values: Any,
) -> ClosedPlace:
    """Close a place, or the whole object, for some tasks or for all of them. The owner's.

    ``tasks`` are tasks of the varnish log or codes of operations; none closes it for everything.
    """
    check_owner(who)
    check_place(thing, values, whole=whole)
    chosen = [t[:40] for t in (tasks or [])][:MOST_TASKS]
    row = ClosedPlace(
        object=thing, whole=whole, tasks=chosen, reason=reason_of(reason), at=clock.now(), who=who, **values
    )
    if id is not None:
        row.id = id
    return keeping.add(row, who=who, because=row.reason)


@transaction.atomic
def lift_closed(*, closed: ClosedPlace, who: Maker, word: str) -> ClosedPlace:
    """Open it again, with a word of reason. The owner's; that it was closed stays in the book."""
    check_owner(who)
    current = ClosedPlace.objects.select_for_update().get(pk=closed.pk)
    if current.lifted_at is not None:
        raise Refusal("varnish.lifted_already")
    tidy = reason_of(word)
    return keeping.change(
        current, who=who, because=tidy, lifted_at=clock.now(), lifted_by=who, lifted_word=tidy
    )


def closable_tasks() -> tuple[str, ...]:
    """The tasks that can be closed one by one."""
    return (*all_tasks(), "test")
