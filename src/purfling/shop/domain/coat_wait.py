"""The drying clocks feed the work list: a coat's wait is what this shop's log, or its stated time, says."""

from datetime import timedelta

from purfling.craft.varnish.meets import task_of
from purfling.shop.domain import keeping
from purfling.shop.domain.work import change_work
from purfling.shop.models import Maker, VarnishLine, Work
from purfling.shop.queries.coat_clock import wait_hours

S = Work.State


def feed_waits(*, line: VarnishLine, who: Maker) -> list[Work]:
    """Set the wait of the operation on the list that a coat belongs to; returns what was changed.

    The operation is the open one of the same task on the same object in the same visit. Nothing is changed
    where neither log nor shop nor table says anything.
    """
    if line.visit_object_id is None or not line.dries:
        return []
    hours = wait_hours(line)
    if hours is None:
        return []
    changed = []
    for work in line.visit_object.work.filter(state__in=Work.OPEN, wait_kind="varnish"):
        if task_of(work.code) != line.task:
            continue
        minutes = min(max(round(hours * 60), 1), 20000)
        recipe = line.recipe.name if line.recipe else work.recipe
        row = change_work(work=work, who=who, wait_minutes=minutes, recipe=recipe[:80])
        if row.state == S.WAITING:
            row = keeping.change(row, who=who, look_at=line.at + timedelta(minutes=minutes))
        changed.append(row)
    return changed
