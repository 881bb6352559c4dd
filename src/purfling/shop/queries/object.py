"""One object, with all that the page shows."""

from purfling.shop.models import Object

MOST = 30


def object_page(thing: Object) -> dict[str, object]:
    """Its owners and its latest visits."""
    return {
        "object": thing,
        "ownerships": list(thing.ownerships.select_related("player")),
        "visits": list(
            thing.visits.select_related("visit__player")
            .prefetch_related("cards")
            .order_by("-visit__number")[:MOST]
        ),
    }
