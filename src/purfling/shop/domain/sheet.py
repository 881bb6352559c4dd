"""The bench sheet: printed in the morning, back by touch in the evening, every entry marked as written
later."""

from dataclasses import dataclass
from datetime import datetime, time

from django.db import transaction
from django.utils import timezone

from purfling.craft.refusals import Refusal
from purfling.shop.domain import clock, keeping
from purfling.shop.domain.work_bench import look_at_work, write_later
from purfling.shop.models import BenchSheet, Maker, Work
from purfling.shop.queries.catalogue import shop_catalogue, shop_hours
from purfling.shop.queries.work_plan import house_plan, open_work

S = Work.State


@dataclass(frozen=True)
class Ticked:
    """One line as it came back: ``done`` with ``minutes`` of hands that ended at ``ended``; ``dry`` when
    looked at;
    ``again_h`` hours when it was still tacky.
    """

    work: str
    done: bool = False
    minutes: int = 0
    ended: time | None = None
    dry: bool = False
    again_h: float | None = None


def _lines(today: datetime) -> list[dict[str, object]]:
    works, offers = open_work(), shop_catalogue()
    plan = house_plan(works, offers)
    end_of_day = max((b for _, b in shop_hours().of_day(today.date(), True)), default=today)
    found = []
    for work in works:
        pieces = plan.pieces[str(work.pk)]
        if work.state == S.WAITING:
            at = timezone.localtime(work.look_at).replace(tzinfo=None) if work.look_at else today
            if at <= end_of_day:
                found.append((at, {"work": str(work.pk), "kind": "look", "start": at.strftime("%H:%M")}))
        elif pieces[0][0] <= end_of_day:
            begin = pieces[0][0]
            end = max(b for a, b in pieces if a.date() == begin.date())
            row = {
                "work": str(work.pk),
                "kind": "hands",
                "start": begin.strftime("%H:%M"),
                "end": end.strftime("%H:%M"),
                "minutes": work.minutes,
            }
            found.append((begin, row))
    return [row for _, row in sorted(found, key=lambda x: x[0])]


@transaction.atomic
def print_sheet(*, who: Maker) -> BenchSheet:
    """Today's sheet; printed again it is laid anew from what is open now."""
    now = timezone.localtime(clock.now())
    lines = _lines(now.replace(tzinfo=None))
    there = BenchSheet.objects.filter(day=now.date()).first()
    if there is None:
        return keeping.add(BenchSheet(day=now.date(), lines=lines, at=clock.now(), who=who), who=who)
    return keeping.change(there, who=who, lines=lines, at=clock.now())


def _moment(sheet: BenchSheet, at: time | None) -> datetime:
    now = clock.now()
    if at is None:
        return now
    return min(now, timezone.make_aware(datetime.combine(sheet.day, at)))


def bring_back(*, sheet: BenchSheet, ticked: list[Ticked], who: Maker) -> list[tuple[str, Refusal]]:
    """What was ticked, line by line in the printed order; what cannot be written is told and the rest stands.

    Returns
    -------
    (work's id, refusal) of the lines that were not written.
    """
    works = {str(w.pk): w for w in Work.objects.filter(pk__in=[t.work for t in ticked])}
    refused = []
    for line in ticked:
        work = works.get(line.work)
        if work is None:
            continue
        try:
            with transaction.atomic():
                _one(sheet, work, line, who)
        except Refusal as refusal:
            refused.append((line.work, refusal))
    keeping.change(sheet, who=who, back_at=clock.now())
    return refused


def _one(sheet: BenchSheet, work: Work, line: Ticked, who: Maker) -> None:
    if line.done:
        ended = _moment(sheet, line.ended)
        work = write_later(work=work, who=who, minutes=line.minutes, ended_at=ended, dry=line.dry)
    elif line.dry:
        look_at_work(work=work, who=who, dry=True, later_at=clock.now())
    if line.again_h is not None and not line.dry:
        look_at_work(work=work, who=who, dry=False, hours=line.again_h, later_at=clock.now())
