"""Objects: add, change, give to another owner."""

from django.db import transaction

from purfling.craft.refusals import Refusal
from purfling.shop.domain import clock, keeping
from purfling.shop.models import Maker, Object, Ownership, Player


@transaction.atomic
def add_object(*, who: Maker | None, owner: Player | None = None, id=None, **values: object) -> Object:
    """Add an instrument or a bow, with its owner where one is known."""
    thing = Object(owner=owner, **values)
    if id is not None:
        thing.id = id
    keeping.add(thing, who=who)
    if owner is not None:
        keeping.add(Ownership(object=thing, player=owner, since=clock.now()), who=who)
    return thing


def change_object(*, thing: Object, who: Maker, seen: int | None = None, **values: object) -> Object:
    """Change what is known of an object; its owner is changed by ``give_object`` alone."""
    if "owner" in values:
        raise Refusal("book.owner_by_giving")
    return keeping.change(thing, who=who, seen=seen, **values)


@transaction.atomic
def give_object(*, thing: Object, to: Player, who: Maker, seen: int | None = None) -> Object:
    """The object belongs to another player from now on; its history stays with it."""
    if to.forgotten:
        raise Refusal("book.forgotten")
    if thing.owner_id == to.pk:
        return thing
    for row in thing.ownerships.filter(until=None):
        keeping.change(row, who=who, until=clock.now())
    keeping.add(Ownership(object=thing, player=to, since=clock.now()), who=who)
    return keeping.change(thing, who=who, seen=seen, owner=to)
