"""The stop page's one question: may this material, or this task, meet this object?

``stops_for`` answers it with reasons; ``pass_stops`` guards a verb with it: it lets the owner go on with a
word, and writes down that a stop was met and overruled. What an assistant met is written by the page that
shows it.
"""

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.utils import timezone
from django.utils.translation import get_language

from purfling.craft.refusals import Refusal
from purfling.craft.varnish.meets import breaks_class, brought_by, spread_kinds, task_of
from purfling.shop.domain import clock, keeping
from purfling.shop.domain.varnish_place import MOST_WORD, is_owner
from purfling.shop.models import ClosedPlace, Maker, Material, Object, SpotTest, StopMet
from purfling.shop.words import TREAT_AS
from purfling.words import say

NEAR = 0.12  # of a view's box: a hand's breadth on the sheet


@dataclass(frozen=True)
class Where:
    """Where somebody means to work: a view with shares of its box, or words."""

    view: str = ""
    x: float = 0.0
    y: float = 0.0
    words: str = ""


@dataclass(frozen=True)
class Reason:
    """Why something stops.

    ``code`` is varnish.stop_test, stop_class, stop_closed or stop_closed_all; ``at`` the date of the test or
    of the closing, None for a class; ``spot`` the test with its picture where there is one; ``closed`` the
    closed place.
    """

    code: str
    params: dict[str, str]
    at: datetime | None = None
    spot: SpotTest | None = None
    closed: ClosedPlace | None = None

    @property
    def of(self) -> str:
        """Which record it is about, or the code itself."""
        row = self.spot or self.closed
        return str(row.pk) if row is not None else self.code

    def sentence(self, language: str | None = None) -> str:
        """The reason as one sentence, with its date."""
        return say(self.code, language or _language(), **self.params)


class Stopped(Refusal):
    """A verb met a stop. The page that shows it writes it down; the owner may overrule it with a word."""

    def __init__(
        self, thing: Object, doing: str, task: str, material: Material | None, reasons: tuple
    ) -> None:
        self.thing = thing
        self.doing = doing
        self.task = task
        self.material = material
        self.reasons: tuple[Reason, ...] = reasons
        super().__init__("varnish.stopped", doing=doing, reason=reasons[0].sentence())


def place_of(values: Mapping[str, Any]) -> Where:
    """The place that a form or a verb has: ``view``, ``x``, ``y``, ``place``."""
    view = values.get("view") or ""
    x, y = values.get("x"), values.get("y")
    return Where(view if x is not None else "", x or 0.0, y or 0.0, values.get("place") or "")


def _language() -> str:
    return (get_language() or "en")[:2]


def _day(at: datetime) -> str:
    return timezone.localtime(at).strftime("%Y-%m-%d")


def _of_tests(thing: Object, wanted: frozenset[str]) -> list[Reason]:
    """Forbidding tests that meet the wanted kinds."""
    if not wanted:
        return []
    language = _language()
    rows = thing.spot_tests.filter(follows=SpotTest.Follows.FORBIDDEN).select_related("material", "who")
    return [
        Reason(
            "varnish.stop_test",
            {
                "date": _day(row.at),
                "what": row.what,
                "place": row.place or say(f"varnish.view_{row.view}", language),
                "result": say(f"varnish.result_{row.result}", language),
            },
            at=row.at,
            spot=row,
        )
        for row in rows
        if wanted & spread_kinds(row.kinds)
    ]


def _there(row: ClosedPlace, place: Where) -> bool:
    """Whether a closed place is where somebody means to work."""
    if place.view and row.view == place.view:
        return math.hypot(row.x - place.x, row.y - place.y) <= NEAR
    return bool(place.words) and row.place.strip().casefold() == place.words.strip().casefold()


def _stands(row: ClosedPlace, task: str, code: str, place: Where | None) -> bool:
    """Whether what the owner closed stands in the way of a task."""
    named = bool(row.tasks) and (task in row.tasks or code in row.tasks)
    if row.tasks and not named:
        return False
    if row.whole:
        return True
    if place is not None and (place.view or place.words):
        return _there(row, place)
    return named


def _of_closed(thing: Object, task: str, code: str, place: Where | None) -> list[Reason]:
    found = []
    for row in thing.closed_places.filter(lifted_at=None).select_related("who"):
        if not _stands(row, task, code, place):
            continue
        params = {
            "who": str(row.who or "?"),
            "date": _day(row.at),
            "place": row.place or (say(f"varnish.view_{row.view}", _language()) if row.view else ""),
            "reason": row.reason,
        }
        name = "varnish.stop_closed_all" if row.whole else "varnish.stop_closed"
        found.append(Reason(name, params, at=row.at, closed=row))
    return found


def stops_for(
    thing: Object,
    *,
    operation: str = "",
    name: str = "",
    material: Material | None = None,
    kinds: Iterable[str] | None = None,
    class_lifted: bool = False,
    place: Where | None = None,
) -> tuple[Reason, ...]:
    """May this material, or this operation, meet this object? Every reason against it, none where none is.

    An empty answer is no permission: it says that the book knows of nothing against it.

    Parameters
    ----------
    thing : Object
        The instrument or bow.
    operation : str
        Code of an operation of the work list ("cleaning", "retouch", "rubbing", "polish", "wax", or one of
        the shop's own), or a task of the log ("clean", "coat", "retouch", "rub", "polish", "wax", "test").
    name : str
        The operation's name, so that the shop's own operations are known by their words.
    material : Material, optional
        The material picked. Without one (and without ``kinds``) everything counts that the task may bring.
    kinds : iterable of str, optional
        Kinds of material on the cloth, where no single material is picked.
    class_lifted : bool
        The owner has lifted the object's class for this operation already.
    place : Where, optional
        Where it is to be done. A closed place stops what is done there; what is done nowhere in particular it
        stops where the owner named the task. A closed whole object stops everywhere.

    Returns
    -------
    tuple of Reason, forbidding tests first (each with its date, its test and by that its picture), then the
    object's class, then what the owner closed.
    """
    task = "test" if operation == "test" else task_of(operation, name)
    if material is not None or kinds is not None:
        given = spread_kinds([*(material.kinds if material is not None else ()), *(kinds or ())])
        brought: frozenset[str] | None = given
    else:
        given, brought = brought_by(task), None
    found = _of_tests(thing, given)
    if not class_lifted and task != "test" and breaks_class(thing.treat_as, task, brought):
        doing = doing_words(operation, name, material)
        params = {"treat_as": str(TREAT_AS[thing.treat_as]), "doing": doing}
        found.append(Reason("varnish.stop_class", params))
    found += _of_closed(thing, task, operation, place)
    return tuple(found)


def doing_words(operation: str, name: str = "", material: Material | None = None) -> str:
    """What is about to be done, in words: "cleaning, spirit 96 %"."""
    task = "test" if operation == "test" else task_of(operation, name)
    first = name or (say(f"varnish.task_{task}", _language()) if task else operation)
    return ", ".join(w for w in (first, material.name if material is not None else "") if w)


def pass_stops(
    thing: Object,
    *,
    who: Maker,
    word: str = "",
    operation: str = "",
    name: str = "",
    material: Material | None = None,
    kinds: Iterable[str] | None = None,
    class_lifted: bool = False,
    place: Where | None = None,
    since: datetime | None = None,
) -> StopMet | None:
    """Let a verb begin, or stop it. To be called inside the verb's transaction, before anything is written.

    Parameters are those of ``stops_for``; ``word`` is the owner's word of reason. What the owner overruled
    since ``since`` (the visit's arrival) for the same doing and reasons stays overruled, for everybody.

    Returns
    -------
    StopMet or None
        The record of an overruled stop; None where nothing stops.

    Raises
    ------
    Stopped
        Something stops it and no word is given, or who gives it is not the owner.
    """
    reasons = stops_for(
        thing,
        operation=operation,
        name=name,
        material=material,
        kinds=kinds,
        class_lifted=class_lifted,
        place=place,
    )
    if not reasons:
        return None
    doing = doing_words(operation, name, material)
    task = "test" if operation == "test" else task_of(operation, name)
    if since is not None and _lifted_since(thing, doing, reasons, since):
        return None
    tidy = " ".join(word.split())[:MOST_WORD]
    stop = Stopped(thing, doing, task, material, reasons)
    if not tidy or not is_owner(who):
        raise stop
    return write_stop(stop, who=who, word=tidy)


def write_stop(stop: Stopped, *, who: Maker | None, word: str = "") -> StopMet:
    """Write down that somebody met a stop; with a word: that the owner overruled it."""
    row = StopMet(
        object=stop.thing,
        doing=stop.doing[:160],
        task=stop.task,
        material=stop.material,
        reasons=[
            {"code": r.code, "text": r.sentence(), "at": _day(r.at) if r.at else "", "of": r.of}
            for r in stop.reasons
        ],
        overruled=bool(word),
        word=word,
        at=clock.now(),
        who=who,
    )
    return keeping.add(row, who=who, because=word)


def _lifted_since(thing: Object, doing: str, reasons: tuple[Reason, ...], since: datetime) -> bool:
    """Whether the owner overruled all of these reasons for the same doing since a moment."""
    rows = thing.stops_met.filter(overruled=True, doing=doing[:160], at__gte=since)
    lifted = {r["of"] for row in rows for r in row.reasons}
    return all(r.of in lifted for r in reasons)
