"""Players: add, change, forget."""

from django.db import transaction

from purfling.craft.refusals import Refusal
from purfling.shop.domain import clock, keeping
from purfling.shop.models import Change, HandOver, Loan, Maker, Player, Try, Visit, Warmth


def add_player(*, who: Maker | None, id=None, **values: object) -> Player:
    """Add a player; a number or a town is enough, the name may come last."""
    player = Player(**values)
    if id is not None:
        player.id = id
    if not any((player.name, player.first_name, player.town, player.phone)):
        raise Refusal("book.nothing_to_know_by")
    return keeping.add(player, who=who)


def change_player(*, player: Player, who: Maker, seen: int | None = None, **values: object) -> Player:
    """Change what is known of a player."""
    if player.forgotten:
        raise Refusal("book.forgotten")
    return keeping.change(player, who=who, seen=seen, **values)


@transaction.atomic
def forget_player(*, player: Player, who: Maker) -> Player:
    """Blank a person here and in the history; what was measured and done to the objects stays.

    Raises
    ------
    Refusal
        The player has a visit that is not handed over, or something lent out.
    """
    if player.visits.filter(closed_at=None).exists():
        raise Refusal("book.forget_open_visit")
    if player.loans.filter(returned_at=None).exists():
        raise Refusal("book.forget_open_loan")
    visits, loans = list(player.visits.all()), list(player.loans.all())
    given_out = list(HandOver.objects.filter(visit__in=visits))
    tries = list(Try.objects.filter(visit_object__visit__in=visits).exclude(player_word=""))
    warmths = list(Warmth.objects.filter(visit_object__visit__in=visits))
    blanks = dict.fromkeys(Player.PERSONAL, "")
    player = keeping.change(player, who=who, because="forgotten", forgotten_at=clock.now(), **blanks)
    for visit in visits:
        keeping.change(visit, who=who, because="forgotten", **dict.fromkeys(Visit.PERSONAL, ""))
    for loan in loans:
        keeping.change(loan, who=who, because="forgotten", **dict.fromkeys(Loan.PERSONAL, "-"))
    for record in (*given_out, *tries, *warmths):
        keeping.change(record, who=who, because="forgotten", **dict.fromkeys(record.PERSONAL, ""))
    _blank_history([player, *visits, *loans, *given_out, *tries, *warmths])
    return player


def _blank_history(records: list) -> None:
    """The one place where lines of history are written again: personal words leave them."""
    personal = {record.pk: record.PERSONAL for record in records}
    lines = list(Change.objects.filter(record__in=list(personal)))
    for line in lines:
        for side in (line.before, line.after):
            for name in personal[line.record]:
                if side.get(name):
                    side[name] = ""
    Change.objects.bulk_update(lines, ["before", "after"], batch_size=500)
