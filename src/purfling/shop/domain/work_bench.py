"""At the bench: start, lay down, take up, finish; a wait ends when somebody looked."""

from datetime import datetime, timedelta

from django.db import transaction
from django.utils import timezone

from purfling.craft.refusals import Refusal
from purfling.shop.domain import clock, keeping
from purfling.shop.domain.card import let_tension_off
from purfling.shop.domain.stops import pass_stops
from purfling.shop.domain.work import list_of
from purfling.shop.domain.work_rules import blocked, class_refusal, hands_refusal, name_of, overruled
from purfling.shop.models import Look, Maker, Stretch, VisitObject, Work
from purfling.shop.queries.catalogue import Offered, shop_catalogue
from purfling.shop.queries.work_plan import house_plan, whom_it_hits
from purfling.shop.words import WORK_STATE

S = Work.State
IN = VisitObject.Whereabouts
HANGS = {
    "glue": IN.CLAMPED,
    "varnish": IN.HANGING,
    "dry": IN.HANGING,
    "hair": IN.HANGING,
    "settle": IN.SETTLING,
}


def _at(moment: datetime | None) -> str:
    return timezone.localtime(moment).strftime("%H:%M") if moment else "?"


def _locked(work: Work) -> tuple[Work, list[Work]]:
    """The operation as it stands now, and its whole list, under lock."""
    rows = list_of(work.visit_object)
    return next(w for w in rows if w.pk == work.pk), rows


def _taken(current: Work, who: Maker, name: str) -> Refusal | None:
    by = str(current.hands or "?")
    if current.state == S.HAND and current.hands_id != who.pk:
        return Refusal("work.taken", who=by, name=name, at=_at(current.since))
    if current.state in (S.WAITING, S.DONE):
        return Refusal("work.done_already", who=by, name=name, at=_at(current.finished_at))
    if current.state == S.STRUCK:
        return Refusal("work.not_in_hand", name=name, state=str(WORK_STATE[current.state]))
    return None


def _check_card(offered: Offered | None, row: VisitObject, word: str, who: Maker) -> None:
    """The tension comes off only after the readings at pitch, or with a word."""
    if offered is not None and offered.row is not None and offered.row.slack and not row.strings_off_at:
        let_tension_off(row=row, who=who, word=word)


@transaction.atomic
def start_work(*, work: Work, who: Maker, word: str = "") -> tuple[Work, Work | None]:
    """Take an operation in hand (start, or take up again); what the same hands held is laid down.

    Returns
    -------
    The operation, and the one that was laid down for it.

    Raises
    ------
    Refusal
        Somebody else has it in hand or finished it; what comes before it is not done or not dry; soft
        varnish;
        the object's class; kept for the owner's hands; a yes is missing; no card before the tension comes
        off.
    """
    current, rows = _locked(work)
    offers = shop_catalogue()
    offered = offers.get(current.code)
    name = name_of(offers, current.code)
    row = current.visit_object
    if row.visit.arrived_at is None:
        raise Refusal("work.not_arrived", number=row.visit.number)
    if not row.visit.is_open:
        raise Refusal("work.closed", number=row.visit.number)
    taken = _taken(current, who, name)
    if taken is not None:
        raise taken
    if current.state == S.HAND:
        return current, None
    if current.state == S.ASKED:
        raise Refusal("work.needs_yes", name=name)
    kept = hands_refusal(offered, who)
    if kept is not None:
        raise kept
    lifted = _lifted(current, rows, offered, word, who, offers)
    _check_varnish(current, name, lifted, word, who)
    _check_card(offered, row, word, who)
    before = _lay_down_own(who)
    now = clock.now()
    if (offered is None or offered.row is None or offered.row.needs) and row.whereabouts != IN.BENCH:
        keeping.change(row, who=who, whereabouts=IN.BENCH, place="")
    also = {"overruled": lifted, "overruled_by": who} if lifted else {}
    begun = keeping.change(
        current,
        who=who,
        because=lifted,
        state=S.HAND,
        hands=who,
        since=now,
        started_at=current.started_at or now,
        **also,
    )
    return begun, before


def _check_varnish(current: Work, name: str, lifted: str, word: str, who: Maker) -> None:
    """A forbidding test, the class, a closed place: the owner's word holds for the whole visit."""
    row = current.visit_object
    pass_stops(
        row.object,
        who=who,
        word=word,
        operation=current.code,
        name=name,
        class_lifted=bool(lifted or current.overruled),
        since=row.visit.arrived_at,
    )


def _lifted(
    current: Work, rows: list[Work], offered: Offered | None, word: str, who: Maker, offers: dict
) -> str:
    refusal = blocked(current, rows, offers)
    if refusal is None and offered is not None and not current.overruled:
        refusal = class_refusal(current.visit_object.object, offered)
    return overruled(refusal, word, who)


def _lay_down_own(who: Maker) -> Work | None:
    own = Work.objects.select_for_update().filter(state=S.HAND, hands=who).first()
    return lay_down(work=own, who=who) if own is not None else None


def _stretch(current: Work, who: Maker, now: datetime) -> int:
    """Write the stretch that ends now; returns the seconds spent in all."""
    begin = current.since or now
    keeping.add(Stretch(work=current, who=current.hands or who, begin=begin, end=now), who=who)
    return current.spent_s + max(0, round((now - begin).total_seconds()))


@transaction.atomic
def lay_down(*, work: Work, who: Maker) -> Work:
    """Out of the hands for now."""
    current, _ = _locked(work)
    if current.state == S.DOWN:
        return current
    if current.state != S.HAND:
        name = name_of(shop_catalogue(), current.code)
        raise Refusal("work.not_in_hand", name=name, state=str(WORK_STATE[current.state]))
    spent = _stretch(current, who, clock.now())
    return keeping.change(current, who=who, state=S.DOWN, since=None, spent_s=spent)


def _check_stops(current: Work, offered: Offered | None, who: Maker) -> None:
    """An assistant has shown every stop point."""
    if who.role == Maker.Role.OWNER or offered is None or offered.row is None:
        return
    for step in offered.row.stops:
        if str(step) not in current.stops:
            raise Refusal("work.stop_point", name=offered.name, step=step)


@transaction.atomic
def pass_stop(*, work: Work, step: int, said: str, who: Maker) -> Work:
    """A stop point was shown: what the owner said. The owner needs no word."""
    current, _ = _locked(work)
    said = " ".join(said.split())[:200]
    if not said and who.role != Maker.Role.OWNER:
        raise Refusal("work.word_missing")
    told = {"who": str(who), "at": clock.now().isoformat(), "word": said}
    return keeping.change(current, who=who, stops={**current.stops, str(step): told})


@transaction.atomic
def finish_work(*, work: Work, who: Maker, recipe: str = "") -> Work:
    """The hands are done: a wait begins, or the operation is done.

    Raises
    ------
    Refusal
        It is not in hand; an assistant has not shown a stop point.
    """
    current, _ = _locked(work)
    offers = shop_catalogue()
    name = name_of(offers, current.code)
    if current.state not in (S.HAND, S.DOWN):
        taken = _taken(current, who, name)
        raise taken or Refusal("work.not_started", name=name)
    if current.state == S.HAND and current.hands_id != who.pk:
        raise Refusal("work.taken", who=str(current.hands or "?"), name=name, at=_at(current.since))
    _check_stops(current, offers.get(current.code), who)
    now = clock.now()
    spent = _stretch(current, who, now) if current.state == S.HAND else current.spent_s
    return _ended(current, who, now, spent, recipe)


@transaction.atomic
def reopen_work(*, work: Work, who: Maker) -> Work:
    """A finish touched by mistake: laid down again, with its minutes so far; the history keeps both.

    Raises
    ------
    Refusal
        It is not finished; the visit is handed over.
    """
    current, _ = _locked(work)
    visit = current.visit_object.visit
    if not visit.is_open:
        raise Refusal("work.closed", number=visit.number)
    if current.state not in (S.WAITING, S.DONE):
        name = name_of(shop_catalogue(), current.code)
        raise Refusal("work.not_started", name=name)
    return keeping.change(
        current, who=who, because="not finished", state=S.DOWN, finished_at=None, look_at=None, looked_at=None
    )


def _ended(current: Work, who: Maker, now: datetime, spent: int, recipe: str, later: bool = False) -> Work:
    waits = bool(current.wait_kind and current.wait_minutes)
    done = keeping.change(
        current,
        who=who,
        state=S.WAITING if waits else S.DONE,
        hands=who,
        since=None,
        spent_s=spent,
        started_at=current.started_at or now - timedelta(seconds=spent),
        finished_at=now,
        look_at=now + timedelta(minutes=current.wait_minutes) if waits else None,
        recipe=recipe[:80] or current.recipe,
        later=later or current.later,
    )
    if waits:
        row = VisitObject.objects.get(pk=current.visit_object_id)
        keeping.change(row, who=who, whereabouts=HANGS.get(current.wait_kind, IN.HANGING))
    return done


@transaction.atomic
def look_at_work(
    *, work: Work, who: Maker, dry: bool, hours: float = 3.0, word: str = "", later_at: datetime | None = None
) -> tuple[Work, list]:
    """Somebody looked: dry and set, or still tacky and to be looked at again.

    Returns
    -------
    The operation, and the visits that are ready later because of it (see ``whom_it_hits``).
    """
    current, rows = _locked(work)
    if current.state != S.WAITING:
        name = name_of(shop_catalogue(), current.code)
        if current.state == S.DONE:
            raise Refusal(
                "work.done_already", who=str(current.hands or "?"), name=name, at=_at(current.looked_at)
            )
        raise Refusal("work.nothing_waits", name=name, state=str(WORK_STATE[current.state]))
    if not dry and not 0.25 <= hours <= 72:
        raise Refusal("work.hours", value=f"{hours:g}")
    at = later_at or clock.now()
    again = None if dry else at + timedelta(hours=hours)
    look = Look(
        work=current, who=who, at=at, dry=dry, again_at=again, word=word[:200], later=later_at is not None
    )
    before = None if dry else house_plan()
    keeping.add(look, who=who)
    if not dry:
        moved = keeping.change(current, who=who, look_at=max(again, current.look_at or again))
        return moved, whom_it_hits(before, house_plan())
    done = keeping.change(current, who=who, state=S.DONE, looked_at=at, look_at=None)
    row = VisitObject.objects.get(pk=current.visit_object_id)
    still = [w for w in rows if w.pk != current.pk and w.state == S.WAITING]
    if not still and row.whereabouts in (IN.HANGING, IN.CLAMPED, IN.SETTLING):
        keeping.change(row, who=who, whereabouts=IN.RACK)
    return done, []


@transaction.atomic
def write_later(*, work: Work, who: Maker, minutes: int, ended_at: datetime, dry: bool = False) -> Work:
    """What was done on paper: hands of so many minutes that ended then; marked as written later.

    Raises
    ------
    Refusal
        Somebody has it in hand, it is done already, or the moment lies ahead; what comes before it is open.
    """
    current, rows = _locked(work)
    offers = shop_catalogue()
    name = name_of(offers, current.code)
    if not 1 <= minutes <= 2400:
        raise Refusal("work.minutes", value=minutes)
    if ended_at > clock.now():
        raise Refusal("work.written_ahead", value=timezone.localtime(ended_at).strftime("%Y-%m-%d %H:%M"))
    taken = _taken(current, who, name)
    if taken is not None:
        raise taken
    if current.state == S.ASKED:
        raise Refusal("work.needs_yes", name=name)
    stopped = hands_refusal(offers.get(current.code), who) or blocked(current, rows, offers)
    if stopped is not None:
        raise stopped
    begin = ended_at - timedelta(minutes=minutes)
    keeping.add(Stretch(work=current, who=who, begin=begin, end=ended_at, later=True), who=who)
    done = _ended(current, who, ended_at, current.spent_s + minutes * 60, "", later=True)
    if dry and done.state == S.WAITING:
        done, _ = look_at_work(work=done, who=who, dry=True, later_at=clock.now())
    return done
