"""The hand-over: everything done, tray empty or named, contents and tags against the arrival, words, second
look."""

from dataclasses import dataclass, field
from datetime import date, timedelta

from django.db import transaction
from django.utils import timezone

from purfling.craft.refusals import Refusal
from purfling.shop.domain import clock, keeping
from purfling.shop.domain.tray import part_words
from purfling.shop.domain.visit import close_visit
from purfling.shop.domain.work_rules import names_of
from purfling.shop.models import Card, HandOver, LoosePart, Maker, Visit, VisitObject, Work
from purfling.shop.queries.catalogue import shop_catalogue
from purfling.shop.words import object_words

S = Work.State
EARLIEST, LATEST = timedelta(weeks=2), timedelta(weeks=6)


@dataclass(frozen=True)
class Given:
    """What was ticked and written at the hand-over.

    ``contents`` holds (there, word) for each thing of the arrival list in its order; ``tags`` maps a visit
    object's id to the
    number read off its tag; ``no_card`` maps one to the word why there is no card as left.
    """

    contents: tuple[tuple[bool, str], ...] = ()
    tags: dict[str, str] = field(default_factory=dict)
    no_card: dict[str, str] = field(default_factory=dict)
    collector: str = ""
    player_words: str = ""
    asked: bool = False
    answer: str = ""
    second_look_at: date | None = None
    no_second_look: str = ""


def check_work_and_tray(visit: Visit) -> None:
    """What holds any visit back from going home.

    Raises
    ------
    Refusal
        An operation is open, a wait was not looked at; a part lies in a tray.
    """
    works = list(Work.objects.filter(visit_object__visit=visit, state__in=Work.OPEN))
    if works:
        raise Refusal("work.work_open", others=names_of(shop_catalogue(), works))
    parts = LoosePart.objects.filter(visit_object__visit=visit, went=LoosePart.Went.TRAY)
    there = [
        part_words(p, p.visit_object.object.family) for p in parts.select_related("visit_object__object")
    ]
    if there:
        raise Refusal("work.tray_full", parts=", ".join(there))


def look_again_codes(visit: Visit) -> list[Work]:
    """What was done that asks for a second look: bridge, post, strings."""
    offers = shop_catalogue()
    done = Work.objects.filter(visit_object__visit=visit, state=S.DONE)
    return [w for w in done if w.code in offers and offers[w.code].row and offers[w.code].row.look_again]


def _check_things(visit: Visit, rows: list[VisitObject], given: Given) -> None:
    told = [*given.contents, *[(False, "")] * len(visit.contents)]
    missing = [
        thing
        for thing, (there, word) in zip(visit.contents, told, strict=False)
        if not there and not word.strip()
    ]
    if missing:
        raise Refusal("work.contents", things=", ".join(missing))
    for row in rows:
        read = given.tags.get(str(row.pk), "").strip()
        if read != row.tag:
            raise Refusal("work.tag", given=read or "–", thing=object_words(row.object), tag=row.tag or "–")


def _check_words(visit: Visit, rows: list[VisitObject], given: Given) -> None:
    worked = set(
        Work.objects.filter(visit_object__in=rows, state=S.DONE).values_list("visit_object", flat=True)
    )
    left = set(
        Card.objects.filter(visit_object__in=rows, moment=Card.Moment.LEFT).values_list(
            "visit_object", flat=True
        )
    )
    for row in rows:
        if row.pk in worked and row.pk not in left and not given.no_card.get(str(row.pk), "").strip():
            raise Refusal("work.no_left_card", thing=object_words(row.object))
    if visit.question and not given.asked and not given.answer.strip():
        raise Refusal("work.question")


def _check_second_look(visit: Visit, given: Given, today: date) -> None:
    asking = look_again_codes(visit)
    day = given.second_look_at
    if not asking and day is None:
        return
    if day is None:
        if not given.no_second_look.strip():
            raise Refusal("work.second_look", others=names_of(shop_catalogue(), asking))
    elif not today + EARLIEST <= day <= today + LATEST:
        others = names_of(shop_catalogue(), asking) or "-"
        raise Refusal("work.second_look", others=others)


@transaction.atomic
def hand_over(*, visit: Visit, given: Given, who: Maker) -> HandOver:
    """Everything goes home.

    Raises
    ------
    Refusal
        Work open; tray full; a thing of the arrival list neither there nor named; a tag that does not fit; no
        card as left and no word why; the question not asked; no second look where one is due.
    """
    visit = Visit.objects.select_for_update().get(pk=visit.pk)
    if not visit.is_open:
        raise Refusal("book.visit_closed", number=visit.number)
    rows = list(visit.rows.select_related("object"))
    check_work_and_tray(visit)
    _check_things(visit, rows, given)
    _check_words(visit, rows, given)
    now = clock.now()
    _check_second_look(visit, given, timezone.localtime(now).date())
    words = {f"no card as left: {k}": v for k, v in given.no_card.items() if v.strip()}
    if given.no_second_look.strip():
        words["no second look"] = given.no_second_look.strip()[:300]
    made = keeping.add(
        HandOver(
            visit=visit,
            at=now,
            who=who,
            collector=given.collector[:120],
            contents=[
                {"thing": thing, "there": there, "word": word[:200]}
                for thing, (there, word) in zip(visit.contents, given.contents, strict=False)
            ],
            tags=given.tags,
            player_words=given.player_words,
            question=visit.question,
            asked=given.asked,
            answer=given.answer,
            second_look_at=given.second_look_at,
            words=words,
        ),
        who=who,
    )
    close_visit(visit=visit, who=who)
    return made
