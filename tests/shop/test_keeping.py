"""Every change leaves a line of history in the same transaction; a second writer is told."""

import pytest
from django.db import transaction

from purfling.shop.domain import keeping
from purfling.shop.domain.player import add_player, change_player, forget_player
from purfling.shop.domain.visit import close_visit
from purfling.shop.models import Change, Player


def lines(record):
    return list(Change.objects.filter(record=record.pk).order_by("version"))


def test_adding_and_changing_leave_one_line_each_with_who_and_old_value(owner, assistant):
    player = add_player(who=owner, name="Feldlerch")
    changed = change_player(player=player, who=assistant, town="Oberlune")
    assert changed.version == 2
    first, second = lines(player)
    assert (first.who, first.after["name"]) == (owner, "Feldlerch")
    assert (second.who, second.before, second.after) == (assistant, {"town": ""}, {"town": "Oberlune"})


def test_a_change_that_changes_nothing_leaves_no_line(owner):
    player = add_player(who=owner, name="Feldlerch")
    change_player(player=player, who=owner, name="Feldlerch")
    assert len(lines(player)) == 1


def test_row_and_line_stand_or_fall_together(owner, monkeypatch):
    player = add_player(who=owner, name="Feldlerch")

    def broken(*args, **kwargs):
        raise RuntimeError("power cut")

    monkeypatch.setattr(Change.objects, "create", broken)
    with pytest.raises(RuntimeError), transaction.atomic():
        change_player(player=player, who=owner, name="Ohmsiek")
    player.refresh_from_db()
    assert player.name == "Feldlerch"


def test_the_second_writer_of_one_field_sees_both_versions(owner, assistant):
    player = add_player(who=owner, name="Feldlerch", town="Oberlune")
    change_player(player=player, who=assistant, seen=1, town="Hollerau")
    with pytest.raises(keeping.Stale) as told:
        change_player(player=player, who=owner, seen=1, town="Niederlune", name="Feldlerch")
    assert (told.value.mine, told.value.theirs) == ({"town": "Niederlune"}, {"town": "Hollerau"})
    assert told.value.who == assistant


def test_writers_of_different_fields_do_not_meet(owner, assistant):
    player = add_player(who=owner, name="Feldlerch", town="Oberlune")
    change_player(player=player, who=assistant, seen=1, town="Hollerau")
    change_player(player=player, who=owner, seen=1, town="Oberlune", name="Feldlerche")
    player.refresh_from_db()
    assert (player.town, player.name) == ("Hollerau", "Feldlerche")


def test_the_history_is_only_added_to(owner):
    line = lines(add_player(who=owner, name="Feldlerch"))[0]
    with pytest.raises(TypeError):
        line.save()
    with pytest.raises(TypeError):
        line.delete()


def test_a_forgotten_person_leaves_no_word_in_book_or_history(book):
    close_visit(visit=book.visit, who=book.owner)
    forget_player(player=book.player, who=book.owner)
    told = str([(c.before, c.after) for c in Change.objects.all()]) + str(list(Player.objects.values()))
    for word in ("Merle", "Aschenbrand", "merle@example.org", "Secret Lane", "It buzzes"):
        assert word not in told
    assert "aschenbrand" not in told
    book.violin.refresh_from_db()
    assert book.violin.visits.count() == 1
    assert book.violin.ownerships.count() == 1
