"""The shop's own log: actual minutes and waits by operation, recipe and season."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

from django.utils import timezone

from purfling.planning.own_log import LogFigures, log_figures, season, stepped_back
from purfling.shop.models import Work
from purfling.shop.queries.catalogue import Offered, shop_catalogue

MOST = 200  # the latest of each: a shop's hands change
MOST_OF_ALL = 6000  # the latest of all that the log's page looks through


@dataclass(frozen=True)
class Planned:
    """What a new line of a work list is planned with, and what it stands on."""

    minutes: int
    wait_minutes: int
    hands: LogFigures
    waits: LogFigures


@dataclass(frozen=True)
class LogLine:
    """One line of the log: ``kind`` hands or wait, its recipe and season where it is a wait."""

    offered: Offered
    family: str
    kind: str
    recipe: str
    season: str
    figures: LogFigures
    default: int
    used: int


def waited_minutes(work: Work) -> float | None:
    """Wall-clock minutes from the end of the hands until somebody found it dry."""
    if not work.wait_minutes or work.finished_at is None or work.looked_at is None:
        return None
    return (work.looked_at - work.finished_at).total_seconds() / 60


def _done(**where: object):
    return Work.objects.filter(state=Work.State.DONE, **where).order_by("-finished_at")


def planned(offered: Offered, family: str) -> Planned:
    """Minutes and wait for a new line: the catalogue's, stepped back behind the log. One query."""
    rows = list(_done(code=offered.code, visit_object__object__family=family)[:MOST])
    hands = log_figures([w.spent_s / 60 for w in rows if w.spent_s])
    waits = log_figures([m for w in rows if (m := waited_minutes(w)) is not None])
    minutes = stepped_back(offered.minutes(family), hands.median, hands.n)
    wait = stepped_back(offered.wait_minutes, waits.most_80, waits.n)
    return Planned(max(1, round(minutes)), round(wait) if offered.wait_kind else 0, hands, waits)


def _figures(works: Iterable[Work]) -> tuple[dict, dict]:
    hands: dict = defaultdict(list)
    waits: dict = defaultdict(list)
    for work in works:
        family = work.visit_object.object.family
        if work.spent_s:
            hands[work.code, family].append(work.spent_s / 60)
        waited = waited_minutes(work)
        if waited is not None:
            month = timezone.localtime(work.finished_at).month
            waits[work.code, family, work.recipe, season(month)].append(waited)
            waits[work.code, family, "", ""].append(waited)
    return hands, waits


def log_page() -> list[LogLine]:
    """The log of the latest operations, in two queries."""
    offers = shop_catalogue()
    works = _done().select_related("visit_object__object")[:MOST_OF_ALL]
    hands, waits = _figures(works)
    lines = []
    for (code, family), values in hands.items():
        if code in offers:
            figures = log_figures(values)
            default = offers[code].minutes(family)
            used = round(stepped_back(default, figures.median, figures.n))
            lines.append(LogLine(offers[code], family, "hands", "", "", figures, default, used))
    for (code, family, recipe, when), values in waits.items():
        if code in offers:
            figures = log_figures(values)
            default = offers[code].wait_minutes
            used = round(stepped_back(default, figures.most_80, figures.n))
            lines.append(LogLine(offers[code], family, "wait", recipe, when, figures, default, used))
    return sorted(lines, key=lambda x: (x.offered.of, x.offered.place, x.family, x.kind, x.season, x.recipe))
