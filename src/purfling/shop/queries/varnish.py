"""The page of an object's varnish: sheet, tests, log, what is closed, what lies where it was touched."""

import math
from dataclasses import dataclass
from typing import Any

from django.utils import timezone
from django.utils.translation import get_language

from purfling.drawing.drawings.varnish_sheet import Spot, body_size, sheet_places, varnish_sheet
from purfling.drawing.shapes import Drawing
from purfling.shop.models import Object, Sighting, VarnishLine, VisitObject
from purfling.shop.queries.coat_clock import coats_now
from purfling.words import say

HERE_MM = 16.0  # of the sheet: what a finger means by "there"


@dataclass(frozen=True)
class Entry:
    """Something placed: ``kind`` test, line or closed; ``name`` as on the sheet; ``row`` the record."""

    kind: str
    name: str
    sign: str
    row: Any

    @property
    def at(self):
        """When."""
        return self.row.at


def language() -> str:
    """The maker's language, en or de."""
    given = (get_language() or "en")[:2]
    return given if given in ("en", "de") else "en"


def size_of(thing: Object) -> tuple[float, ...]:
    """The dimensions the sheet is drawn from."""
    return body_size(thing.family, thing.length_mm, thing.upper_mm, thing.lower_mm)


def open_row(thing: Object) -> VisitObject | None:
    """The object's row in the visit that is open now."""
    return (
        thing.visits.filter(visit__closed_at=None, visit__arrived_at__isnull=False)
        .select_related("visit")
        .order_by("-visit__number")
        .first()
    )


def entries_of(thing: Object) -> list[Entry]:
    """All that is known of the varnish, the latest first. Three queries and the looks."""
    tests = list(thing.spot_tests.select_related("material", "lot", "who"))
    found = [
        Entry("test", str(len(tests) - i), "forbidden" if t.follows == "forbidden" else "test", t)
        for i, t in enumerate(tests)
    ]
    lines = thing.varnish_lines.select_related("recipe", "who").prefetch_related(
        "used__material", "used__lot"
    )
    for line in lines:
        sign = "coat" if line.task in ("coat", "retouch", "polish", "wax") else "clean"
        found.append(Entry("line", f"’{timezone.localtime(line.at):%y}", sign, line))
    closed = thing.closed_places.filter(lifted_at=None).select_related("who")
    found += [Entry("closed", "", "closed", row) for row in closed]
    return sorted(found, key=lambda e: e.at, reverse=True)


def marks_of(thing: Object) -> list[tuple[Any, str]]:
    """The marks on an object's chart: id, and number with what it is and where. One query."""
    latest: dict[Any, Any] = {}
    rows = Sighting.objects.filter(mark__object=thing, gone=False).select_related("mark", "survey")
    for row in rows.order_by("survey__at", "survey__edition"):
        latest[row.mark_id] = row
    found = sorted(latest.values(), key=lambda s: s.mark.number)
    return [
        (s.mark_id, f"{s.mark.number} · {say(f'marks.kind_{s.kind}', language())}, {_view_of_chart(s.view)}")
        for s in found
    ]


def _view_of_chart(view: str) -> str:
    full = view in ("scroll_front", "scroll_treble", "scroll_back")
    return say(f"marks.{'full' if full else 'view'}_{view}", language())


def sheet_words(is_bow: bool) -> dict[str, str]:
    """Words of the sheet in the maker's language."""
    from purfling.drawing.drawings.varnish_sheet import sheet_views

    words = {view: say(f"varnish.view_{view}", language()) for view in sheet_views(is_bow)}
    # the two scrolls stand side by side: their side is enough
    words |= {f"scroll_{side}": say(f"varnish.{side}", language()) for side in ("bass", "treble")}
    return words | {"title": say("varnish.sheet", language())}


def sheet_of(thing: Object, entries: list[Entry]) -> Drawing:
    """The sheet with all that has a place."""
    spots = [
        Spot(e.row.view, e.row.x, e.row.y, e.sign, e.name, f"{e.kind}-{e.row.pk}")
        for e in sorted(entries, key=lambda e: (e.sign == "forbidden", e.at))  # harm lies on top
        if e.row.view and e.row.x is not None
    ]
    return varnish_sheet(thing.is_bow, size_of(thing), spots, sheet_words(thing.is_bow))


def here(thing: Object, entries: list[Entry], view: str, x: float, y: float) -> list[Entry]:
    """What lies where the sheet was touched, the nearest first; the same distance the latest first."""
    places = {p.view: p for p in sheet_places(thing.is_bow, size_of(thing))}
    if view not in places:
        return []
    touched = places[view].on_sheet(x, y)
    found = []
    for e in entries:
        if e.row.view == view and e.row.x is not None:
            away = math.dist(touched, places[view].on_sheet(e.row.x, e.row.y))
            if away <= HERE_MM:
                found.append((away, e))
    return [e for _away, e in sorted(found, key=lambda f: f[0])]


def varnish_page(thing: Object, touched: tuple[str, float, float] | None) -> dict[str, Any]:
    """Everything the page shows."""
    entries = entries_of(thing)
    tests = [e for e in entries if e.kind == "test"]
    forbidden = [e for e in tests if e.row.follows == "forbidden"]
    return {
        "object": thing,
        "drawing": sheet_of(thing, entries),
        "forbidden": forbidden,
        "forbidden_n": len(forbidden),
        "task_links": [(t, say(f"varnish.task_{t}", language())) for t in VarnishLine.Task.values],
        "tests": [e for e in tests if e.row.follows != "forbidden"],
        "lines": [e for e in entries if e.kind == "line"],
        "closed": [e for e in entries if e.kind == "closed"],
        "touched": touched,
        "here": here(thing, entries, *touched) if touched else [],
        "coats": coats_now(thing),
        "row": open_row(thing),
        "stops": list(thing.stops_met.select_related("who", "material")[:20]),
    }
