"""The invented shop is the same for one seed and day; killed tasks are laid back; two writers at once."""

import hashlib
import threading
from datetime import datetime

import pytest
from django.db import connection, connections
from django.utils import timezone

from purfling.shop.demo.build import build_demo
from purfling.shop.domain.player import add_player, change_player
from purfling.shop.models import Change, Object, Player, Reading, Visit, VisitObject

TODAY = timezone.make_aware(datetime(2026, 11, 25, 9, 0))


def print_of_book() -> str:
    """A print of all that the demo wrote, ids and histories included."""
    sha = hashlib.sha256()
    for model in (Player, Object, Visit, VisitObject, Reading):
        names = [f.attname for f in model._meta.concrete_fields if f.attname != "id"]
        for row in model.objects.order_by("pk").values_list("pk", *names):
            sha.update(repr(row).encode())
    for row in Change.objects.order_by("id").values_list("what", "version", "before", "after"):
        sha.update(repr((*row[:2], sorted(row[2]), sorted(row[3]))).encode())
    return sha.hexdigest()


@pytest.mark.full
def test_the_demo_is_the_same_every_time_and_of_the_promised_size(transactional_db):
    from django.core.management import call_command

    prints = []
    for _ in range(2):
        call_command("flush", verbosity=0, interactive=False)
        build_demo(seed="willow", today=TODAY)
        prints.append(print_of_book())
    assert prints[0] == prints[1]
    assert Object.objects.count() == 40
    assert Visit.objects.filter(closed_at=None).exclude(arrived_at=None).count() == 2
    years = Visit.objects.order_by("arrived_at").exclude(arrived_at=None)
    assert (years.last().arrived_at - years.first().arrived_at).days > 4 * 365 - 40
    # through the verbs: every figure has its line of history
    assert Change.objects.filter(what="reading").count() == Reading.objects.count()


def task_row(status, starts):
    from django_tasks_db.models import DBTaskResult

    return DBTaskResult.objects.create(
        status=status,
        args_kwargs={"args": [], "kwargs": {}},
        task_path="purfling.shop.tasks.nothing",
        backend_name="default",
        run_after=timezone.now(),
        worker_ids=[f"w{i}" for i in range(starts)],
        exception_class_path="",
        traceback="",
    )


def test_a_task_whose_worker_was_killed_is_laid_back_three_times_then_given_up(db):
    from purfling.shop.commands.worker import reap

    young, old, done = task_row("RUNNING", 1), task_row("RUNNING", 3), task_row("SUCCESSFUL", 1)
    assert reap() == (1, 1)
    for row in (young, old, done):
        row.refresh_from_db()
    assert (young.status, old.status, done.status) == ("READY", "FAILED", "SUCCESSFUL")
    assert reap() == (0, 0)


@pytest.mark.django_db(transaction=True)
def test_two_writers_at_once_lose_nothing(owner):
    """Forty changes from two threads: every one stands in the history, versions without a gap."""
    player = add_player(who=owner, name="Feldlerch")
    failures: list[Exception] = []

    def write(side: str) -> None:
        try:
            for number in range(20):
                change_player(player=player, who=owner, note=f"{side} {number}")
        except Exception as trouble:
            failures.append(trouble)
        finally:
            connections.close_all()

    threads = [threading.Thread(target=write, args=(side,)) for side in ("bass", "treble")]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert failures == []
    versions = list(
        Change.objects.filter(record=player.pk).order_by("version").values_list("version", flat=True)
    )
    assert versions == list(range(1, 42))


def test_sqlite_is_opened_as_the_book_needs_it(db):
    if connection.vendor != "sqlite":
        pytest.skip("another database")
    with connection.cursor() as cursor:
        found = {
            p: cursor.execute(f"PRAGMA {p}").fetchone()[0]
            for p in ("journal_mode", "synchronous", "foreign_keys")
        }
    assert found == {"journal_mode": "wal", "synchronous": 2, "foreign_keys": 1}
    assert connection.settings_dict["OPTIONS"]["transaction_mode"] == "IMMEDIATE"
