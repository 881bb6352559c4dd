"""Marks: set on the chart, changed, looked at again, gone."""

import math
from collections.abc import Sequence
from typing import Any

from django.db import transaction
from django.db.models import Max

from purfling.craft.marks import KINDS, OTHER
from purfling.craft.refusals import Refusal
from purfling.drawing.drawings.object_outlines import ObjectShape, object_shape, object_views
from purfling.shop.domain import keeping
from purfling.shop.models import Maker, Mark, Object, Reading, Sighting, Survey

MOST_POINTS = 40
FAR = 2.5  # unit coordinates beyond this lie off every view
LONGEST_MM = 3000.0


def shape_of(thing: Object) -> ObjectShape:
    """The shape an object's outlines are drawn from: its own dimensions, the last body stop read."""
    stop = None
    if not thing.is_bow:
        stop = (
            Reading.objects.filter(object=thing, key="body.stop_mm")
            .order_by("-at")
            .values_list("value", flat=True)
            .first()
        )
    return object_shape(
        thing.family,
        thing.is_bow,
        length=thing.length_mm,
        upper=thing.upper_mm,
        lower=thing.lower_mm,
        stop=stop,
        back=thing.back or "two",
    )


def _checked_points(view: str, points: Sequence[Sequence[float]], thing: Object) -> list[list[float]]:
    if view not in object_views(shape_of(thing)):
        raise Refusal("survey.no_view", view=view[:20])
    if not 1 <= len(points) <= MOST_POINTS:
        raise Refusal("survey.points", n=len(points), most=MOST_POINTS)
    found = []
    for point in points:
        if len(point) != 2 or not all(math.isfinite(c) and abs(c) <= FAR for c in point):
            raise Refusal("survey.off_the_chart")
        found.append([round(float(c), 5) for c in point])
    return found


def _check_values(values: dict[str, Any]) -> None:
    known = {OTHER, *(k for kinds in KINDS.values() for k in kinds)}
    if "kind" in values and values["kind"] not in known:
        raise Refusal("survey.no_kind", kind=str(values["kind"])[:20])
    length = values.get("length_mm")
    if length is not None and not 0.0 < length <= LONGEST_MM:
        raise Refusal("survey.length", value=float(length), most=LONGEST_MM)
    for name in ("state", "whose", "age", "severity", "decision"):
        if name in values and values[name] not in dict(Sighting._meta.get_field(name).choices):
            raise Refusal("survey.no_choice", value=str(values[name])[:20])


@transaction.atomic
def record_mark(
    *,
    survey: Survey,
    view: str,
    points: Sequence[Sequence[float]],
    kind: str,
    who: Maker | None,
    along_edge: bool = False,
    id=None,
    **values: Any,
) -> Sighting:
    """A mark nobody had on the chart: the next number of the object, as this survey sees it.

    A run without a length gets the length of its line on the outline.

    Raises
    ------
    Refusal
        The survey is frozen; a view, kind or choice that is not known; points off the chart.
    """
    thing = Object.objects.select_for_update().get(pk=survey.object_id)
    laid = _checked_points(view, points, thing)
    _check_values({"kind": kind, **values})
    if values.get("length_mm") is None and len(laid) > 1:
        run = tuple((u, v) for u, v in laid)
        length = object_views(shape_of(thing))[view].length(run, along_edge)
        values["length_mm"] = round(length, 1) or None
    number = (thing.marks.aggregate(last=Max("number"))["last"] or 0) + 1
    mark = Mark(object=thing, number=number, first_seen=survey)
    if id is not None:
        mark.id = id
    keeping.add(mark, who=who)
    seen = Sighting(
        mark=mark, survey=survey, view=view, points=laid, along_edge=along_edge, kind=kind, **values
    )
    return keeping.add(seen, who=who)


def change_sighting(*, sighting: Sighting, who: Maker, seen: int | None = None, **values: Any) -> Sighting:
    """What this survey says of a mark is changed; it counts as looked at."""
    _check_values(values)
    if "points" in values:
        view = values.get("view", sighting.view)
        values["points"] = _checked_points(view, values["points"], sighting.survey.object)
    return keeping.change(sighting, who=who, seen=seen, checked=True, **values)


def look_again(*, sighting: Sighting, who: Maker, gone: bool = False) -> Sighting:
    """A mark taken over from last time was looked at: still there as it was, or not there any more."""
    return keeping.change(sighting, who=who, checked=True, gone=gone)


@transaction.atomic
def look_at_all_again(*, survey: Survey, who: Maker) -> int:
    """Every mark taken over and not yet looked at is still there; returns how many."""
    rows = list(survey.sightings.filter(checked=False))
    for row in rows:
        keeping.change(row, who=who, checked=True)
    return len(rows)
