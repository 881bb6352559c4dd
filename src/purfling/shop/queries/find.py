"""The find box: any word (name, town, label, tag, number) in one field."""

from dataclasses import dataclass, field

from django.db.models import Q

from purfling.shop.models import Object, Player, Visit, VisitObject
from purfling.shop.models.record import normalised

MOST = 20


@dataclass(frozen=True)
class Found:
    """What was found, at most twenty of each; ``more`` when there is more than that."""

    words: str
    players: list[Player] = field(default_factory=list)
    objects: list[Object] = field(default_factory=list)
    tags: list[VisitObject] = field(default_factory=list)
    visits: list[Visit] = field(default_factory=list)
    more: bool = False

    @property
    def nothing(self) -> bool:
        """Nothing found."""
        return not (self.players or self.objects or self.tags or self.visits)


def find(words: str) -> Found:
    """Every word must be met; an object is also found by its owner's words."""
    parts = normalised(words).split()[:6]
    if not parts:
        return Found("")
    of_player, of_object = Q(), Q()
    for part in parts:
        of_player &= Q(find__contains=part)
        # a list of owners once, not a look at the owner of every object
        of_object &= Q(find__contains=part) | Q(owner__in=Player.objects.filter(find__contains=part))
    players = list(Player.objects.filter(of_player)[: MOST + 1])
    objects = list(Object.objects.filter(of_object).select_related("owner")[: MOST + 1])
    tags: list[VisitObject] = []
    visits: list[Visit] = []
    if len(parts) == 1 and len(parts[0]) <= 12:
        tags = list(
            VisitObject.objects.filter(tag=parts[0])
            .exclude(whereabouts=VisitObject.Whereabouts.GONE_HOME)
            .select_related("object__owner", "visit")
        )
        if parts[0].isdecimal() and len(parts[0]) < 9:
            visits = list(Visit.objects.filter(number=int(parts[0])).select_related("player"))
    more = len(players) > MOST or len(objects) > MOST
    return Found(words, players[:MOST], objects[:MOST], tags, visits, more)
