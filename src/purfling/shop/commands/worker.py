"""The worker: does what pages laid aside for it (pictures, papers), one process beside the server.

A task whose worker was killed stays "running" for ever; before it starts, the worker lays such tasks back,
three times at most, then they are failed.
"""

import sys

from purfling.shop.commands import wake_book

MOST_STARTS = 3


def reap() -> tuple[int, int]:
    """Lay back the tasks of a worker that is no more; returns (laid back, given up).

    There is one worker by construction, so every task that is running when it starts belongs to a dead one.
    """
    from django.db import transaction
    from django.utils import timezone
    from django_tasks.base import TaskResultStatus
    from django_tasks_db.models import DBTaskResult

    back = failed = 0
    with transaction.atomic():
        for task in DBTaskResult.objects.select_for_update().filter(status=TaskResultStatus.RUNNING):
            if len(task.worker_ids) >= MOST_STARTS:
                task.status = TaskResultStatus.FAILED
                task.finished_at = timezone.now()
                task.exception_class_path = "builtins.RuntimeError"
                task.traceback = f"the worker was killed {len(task.worker_ids)} times while it did this"
                failed += 1
            else:
                task.status = TaskResultStatus.READY
                task.started_at = None
                back += 1
            task.save()
    return back, failed


def main() -> int:
    """Reap, then work until stopped."""
    wake_book()
    from django.core.management import call_command

    back, failed = reap()
    if back or failed:
        print(f"worker: {back} tasks laid back, {failed} given up", file=sys.stderr, flush=True)
    call_command("db_worker", queue_name="*", interval=0.5, verbosity=0)
    return 0


if __name__ == "__main__":
    sys.exit(main())
