"""Work lists of the invented shop: what was done at late visits fills its log, what is open lies on the
bench."""

from datetime import datetime, timedelta

from purfling.shop.domain import clock
from purfling.shop.domain.tray import lay_in_all, put_back_all
from purfling.shop.domain.work import add_usual, add_work
from purfling.shop.domain.work_bench import (
    finish_work,
    let_tension_off,
    look_at_work,
    start_work,
    write_later,
)
from purfling.shop.models import Visit, Work
from purfling.shop.queries.catalogue import shop_catalogue

LOGGED = timedelta(days=260)


def done_visit(shop, visit: Visit, at: datetime) -> None:
    """What was done at a visit that is over, written down as it happened."""
    if at < shop.today - LOGGED:
        return
    moment = at + timedelta(hours=1)
    for row in visit.rows.select_related("object", "visit").order_by("-object__kind", "id"):
        if not row.object.is_bow:
            with clock.held(moment):
                let_tension_off(row=row, who=shop.owner, word="card of an earlier book")
        with clock.held(at):
            works, _left_out = add_usual(row=row, who=shop.owner)
        for work in works:
            minutes = max(3, round(work.minutes * shop.dice.uniform(0.75, 1.45)))
            moment += timedelta(minutes=minutes)
            with clock.held(moment):
                done = write_later(work=work, who=shop.hands(), minutes=minutes, ended_at=moment)
            if done.state == Work.State.WAITING:
                moment += timedelta(minutes=round(work.wait_minutes * shop.dice.uniform(0.9, 1.5)))
                with clock.held(moment):
                    look_at_work(work=done, who=shop.owner, dry=True)


def open_visit(shop, visit: Visit, upto: str, begin: datetime, hand: bool = False) -> None:
    """The usual service, done up to an operation; ``hand`` leaves that one in hand, else its wait runs."""
    rows = list(visit.rows.select_related("object", "visit").order_by("-object__kind", "id"))
    with clock.held(begin):
        for row in rows:
            add_usual(row=row, who=shop.owner)
        if not rows[0].object.is_bow:
            let_tension_off(row=rows[0], who=shop.owner, word="came with the strings let down")
    moment = begin
    for work in Work.objects.filter(visit_object=rows[0]).order_by("place"):
        with clock.held(moment):
            start_work(work=work, who=shop.owner)
        if work.code == upto and hand:
            return
        moment += timedelta(minutes=work.minutes)
        with clock.held(moment):
            done = finish_work(work=work, who=shop.owner)
            offered = shop_catalogue().get(work.code)
            if offered and offered.row:
                put_back_all(row=rows[0], parts=offered.row.back, who=shop.owner)
                lay_in_all(row=rows[0], parts=offered.row.parts, who=shop.owner)
        if work.code == upto:
            return
        if done.state == Work.State.WAITING:
            moment += timedelta(minutes=work.wait_minutes + 5)
            with clock.held(moment):
                look_at_work(work=done, who=shop.owner, dry=True)


def bridge_work(shop, visit: Visit) -> None:
    """A bridge that fills waits, and a seam found while working that waits for a yes."""
    row = visit.rows.select_related("object", "visit").exclude(object__kind="bow").first()
    for code in ("bridge_feet", "bridge_marked", "bridge_carved", "bridge_notched", "bridge_set"):
        add_work(row=row, code=code, who=shop.owner)
    add_work(row=row, code="seam", who=shop.assistant, found=True, note="lower bout, treble side, 40 mm")
