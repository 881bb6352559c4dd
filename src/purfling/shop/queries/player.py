"""One player, with all that the page shows."""

from purfling.shop.models import Player

MOST = 30


def player_page(player: Player) -> dict[str, object]:
    """Objects of today and the latest visits."""
    return {
        "player": player,
        "objects": list(player.things.all()[:200]),
        "visits": list(player.visits.all()[:MOST]),
    }
