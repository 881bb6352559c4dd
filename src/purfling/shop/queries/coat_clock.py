"""Drying clocks from the shop's own log, and what may touch which coat when."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from purfling.craft.varnish.clocks import BEARS, Clock, Dried, clock_for, stated_hours
from purfling.shop.domain import clock as book_clock
from purfling.shop.models import FingerLook, Object, Recipe, VarnishLine

LATEST_DAYS = 90  # a coat without a look for longer is no longer on the page of clocks
MOST = 2000


@dataclass(frozen=True)
class BearsClock:
    """When a coat bears something: the log's clock, the stated time until then, and which of them is used.

    ``found_at`` is when a finger found it; ``due_at`` when it is to be expected, by the hour used.
    """

    bears: str
    log: Clock
    stated: float | None
    source: str
    hours: float | None
    found_at: datetime | None = None
    due_at: datetime | None = None

    @property
    def from_log(self) -> bool:
        """The hour used is the log's 80 % value."""
        return self.log.most_hours is not None


@dataclass(frozen=True)
class CoatNow:
    """One coat that dries, with its clocks and what a finger found last."""

    line: VarnishLine
    clocks: tuple[BearsClock, ...]
    last: FingerLook | None

    @property
    def next(self) -> BearsClock | None:
        """What it will bear next."""
        return next((c for c in self.clocks if c.found_at is None), None)


def _name(line: VarnishLine) -> str:
    return str(line.recipe_id or line.task)


def as_dried(line: VarnishLine, hours: float = 0.0) -> Dried:
    """A line of the log as the clocks see it."""
    return Dried(
        hours,
        _name(line),
        line.coat or 1,
        line.humidity_percent,
        line.temperature_c,
        bool(line.cabinet_min),
    )


def dried_log() -> dict[str, list[Dried]]:
    """Coats found dry, by what they bore: the first look that found just that. One query.

    A look that found more at once says nothing of the lesser: it came too late for it.
    """
    found: dict[str, list[Dried]] = {bears: [] for bears in BEARS}
    seen: set = set()
    looks = FingerLook.objects.exclude(bears="tacky").select_related("line").order_by("-at")[:MOST]
    for look in sorted(looks, key=lambda x: x.at):
        key = (look.line_id, look.bears)
        if key in seen:
            continue
        seen.add(key)
        hours = (look.at - look.line.at).total_seconds() / 3600
        found[look.bears].append(as_dried(look.line, hours))
    return found


def clocks_of(line: VarnishLine, log: dict[str, list[Dried]] | None = None) -> tuple[BearsClock, ...]:
    """The four clocks of a coat: log where there are five alike, the stated time until then."""
    log = log if log is not None else dried_log()
    looks = sorted(line.looks.all(), key=lambda x: x.at)
    now = as_dried(line)
    kind = line.recipe.kind if line.recipe else line.task
    own = line.recipe.hours if line.recipe else {}
    found = []
    for place, bears in enumerate(BEARS):
        by_log = clock_for(log[bears], now)
        said = stated_hours(kind, bears, now.cabinet, own)
        hours = by_log.most_hours if by_log.most_hours is not None else (said.hours if said else None)
        met = next((x.at for x in looks if x.bears in BEARS[place:]), None)
        due = line.at + timedelta(hours=hours) if hours is not None else None
        found.append(
            BearsClock(
                bears, by_log, said.hours if said else None, said.source if said else "", hours, met, due
            )
        )
    return tuple(found)


def wait_hours(line: VarnishLine) -> float | None:
    """Hours until hands may come to a coat: the log's 80 % value, else the stated time, else None."""
    return clocks_of(line)[0].hours


def recipe_clocks(recipe: Recipe) -> tuple[tuple[bool, tuple[BearsClock, ...]], ...]:
    """What the log says of a recipe without and with the light cabinet, whatever coat and room."""
    log = dried_log()
    found = []
    for cabinet in (False, True):
        line = VarnishLine(recipe=recipe, task="coat", coat=1, cabinet_min=60 if cabinet else None)
        rows = []
        for bears in BEARS:
            same = [d for d in log[bears] if d.recipe == str(recipe.pk) and d.cabinet == cabinet]
            every = clock_for(
                [Dried(d.hours, d.recipe, 1, None, None, cabinet) for d in same], as_dried(line)
            )
            said = stated_hours(recipe.kind, bears, cabinet, recipe.hours)
            rows.append(
                BearsClock(
                    bears,
                    every,
                    said.hours if said else None,
                    said.source if said else "",
                    every.most_hours if every.most_hours is not None else (said.hours if said else None),
                )
            )
        found.append((cabinet, tuple(rows)))
    return tuple(found)


def coats_now(thing: Object | None = None) -> list[CoatNow]:
    """The coats that a finger has not yet found to bear everything, the one to be looked at first first."""
    since = book_clock.now() - timedelta(days=LATEST_DAYS)
    rows = VarnishLine.objects.filter(task__in=VarnishLine.DRIES, at__gte=since)
    if thing is not None:
        rows = rows.filter(object=thing)
    rows = rows.exclude(looks__bears="case").select_related("recipe", "object__owner", "who")
    log = dried_log()
    found = []
    for line in rows.prefetch_related("looks"):
        looks = list(line.looks.all())
        found.append(CoatNow(line, clocks_of(line, log), looks[-1] if looks else None))
    return sorted(found, key=_when)


def _when(coat: CoatNow) -> tuple:
    last = coat.last
    again = last.again_at if last is not None and last.bears == "tacky" else None
    due = again or (coat.next.due_at if coat.next else None)
    return (due is None, due or coat.line.at)
