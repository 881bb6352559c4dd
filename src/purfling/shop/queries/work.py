"""The work list as pages show it: knots on a thread, with the reason where one cannot begin."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from purfling.shop.domain import clock
from purfling.shop.domain.work_rules import blocked, name_of, wait_words
from purfling.shop.models import VisitObject, Work
from purfling.shop.queries.catalogue import Offered, language, shop_catalogue
from purfling.words import refusal_text, say

S = Work.State


@dataclass(frozen=True)
class Knot:
    """One operation on the thread.

    ``reason`` is why it cannot begin, empty when it can; ``behind`` what it waits for in short, ``wet``
    whether
    that has been done and must only be looked at.
    """

    work: Work
    offered: Offered | None
    name: str
    reason: str
    behind: str = ""
    wet: bool = False

    @property
    def startable(self) -> bool:
        """The hands may begin, or take it up again."""
        return self.work.state in (S.LISTED, S.DOWN) and not self.reason

    @property
    def needs_object(self) -> bool:
        """Whether the object must lie on the bench for it."""
        return self.offered is None or self.offered.row is None or self.offered.row.needs

    @property
    def planned(self) -> str:
        """Its planned minutes and wait in words."""
        return wait_words(self.work.minutes)

    @property
    def wait(self) -> str:
        """Its planned wait in words, empty for none."""
        return wait_words(self.work.wait_minutes) if self.work.wait_minutes else ""

    @property
    def spent(self) -> str:
        """Hands so far in words, empty for none."""
        now = clock.now()
        running = (now - self.work.since).total_seconds() if self.work.since else 0
        minutes = round((self.work.spent_s + max(0, running)) / 60)
        return wait_words(minutes) if minutes else ""

    @property
    def is_due(self) -> bool:
        """Somebody should look now."""
        return (
            self.work.state == S.WAITING
            and self.work.look_at is not None
            and self.work.look_at <= clock.now()
        )


def knots_of(works: Sequence[Work], offers: Mapping[str, Offered]) -> list[Knot]:
    """The knots of one object's list."""
    found = []
    for work in works:
        refusal = blocked(work, works, offers) if work.state in (S.LISTED, S.DOWN) else None
        found.append(
            Knot(
                work,
                offers.get(work.code),
                name_of(offers, work.code),
                refusal_text(refusal, language()).split(". ")[0] if refusal else "",
                str(refusal.params["others"]) if refusal else "",
                bool(refusal) and refusal.code != "work.not_before",
            )
        )
    return found


def threads(
    rows: Iterable[VisitObject], offers: dict[str, Offered] | None = None
) -> dict[object, list[Knot]]:
    """The thread of each object of a visit: two queries however many there are."""
    offers = offers or shop_catalogue()
    ids = [r.pk for r in rows]
    by_row: dict[object, list[Work]] = {pk: [] for pk in ids}
    works = Work.objects.filter(visit_object__in=ids).exclude(state=S.STRUCK).select_related("hands")
    for work in works.order_by("place", "id"):
        by_row[work.visit_object_id].append(work)
    return {pk: knots_of(those, offers) for pk, those in by_row.items()}


@dataclass(frozen=True)
class Step:
    """One line of a step card; ``told`` is what was said at a stop point."""

    number: int
    text: str
    stop: bool
    told: dict | None


def steps_of(work: Work, offered: Offered | None) -> list[Step]:
    """The step card of an operation."""
    if offered is None or offered.row is None:
        return []
    stops = offered.row.stops
    return [Step(n, text, n in stops, work.stops.get(str(n))) for n, text in enumerate(offered.steps, 1)]


def cautions_of(offered: Offered | None) -> list[str]:
    """The short cautions that stand with the work, the last one that labels and rules come first."""
    if offered is None or offered.row is None or not offered.row.cautions:
        return []
    return [say(f"cautions.{c}", language()) for c in (*offered.row.cautions, "first")]
