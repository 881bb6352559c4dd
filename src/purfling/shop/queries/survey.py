"""What the chart's pages read, in a fixed number of queries whatever the book holds."""

from collections import defaultdict
from dataclasses import dataclass, field
from typing import Any

from django.db.models import Count, Q

from purfling.craft.marks import Standing, group_of, growth, standing
from purfling.drawing.drawings.chart_layout import Sheet, chart_layout, closer_layout
from purfling.drawing.drawings.chart_sheet import ChartMark
from purfling.drawing.drawings.object_outlines import view_names
from purfling.shop.domain.mark import shape_of
from purfling.shop.domain.survey_content import intact, numbers_before
from purfling.shop.models import Mark, Object, Photograph, Sighting, Survey, VisitObject

YEAR = 365.2425 * 86400.0


@dataclass(frozen=True)
class Row:
    """A mark of a survey as the page lists it."""

    sighting: Sighting
    number: int
    standing: Standing
    photographs: list[Photograph] = field(default_factory=list)

    def on_chart(self, chosen: int | None = None) -> ChartMark:
        """The mark as the chart draws it."""
        s = self.sighting
        drawn = {"first": "known", "overlooked": "known"}.get(self.standing, self.standing)
        points = tuple((float(u), float(v)) for u, v in s.points)
        return ChartMark(
            self.number, s.view, points, group_of(s.kind), drawn, s.along_edge, self.number == chosen
        )


def survey_rows(survey: Survey) -> list[Row]:
    """The survey's marks with their photographs of this visit: four queries."""
    before = numbers_before(survey)
    shown: dict[Any, list[Photograph]] = defaultdict(list)
    for photograph in survey.visit_object.photographs.prefetch_related("marks"):
        for mark in photograph.marks.all():
            shown[mark.pk].append(photograph)
    return [
        Row(
            s,
            s.mark.number,
            standing(s.mark.number, s.age, s.gone, before),
            shown[s.mark_id],
        )
        for s in survey.sightings.select_related("mark").order_by("mark__number")
    ]


def sheet_of(survey: Survey, closer: str = "") -> Sheet:
    """The whole chart, or one view of it as large as it goes."""
    shape = shape_of(survey.object)
    if closer in view_names(survey.object.is_bow):
        return closer_layout(shape, closer)
    return chart_layout(shape)


def survey_page(survey: Survey) -> dict[str, object]:
    """All that the chart's page shows beside the drawing."""
    rows = survey_rows(survey)
    editions = list(survey.visit_object.surveys.order_by("edition"))
    return {
        "survey": survey,
        "rows": rows,
        "new": [r for r in rows if r.standing == "new"],
        "not_looked_at": sum(1 for r in rows if not r.sighting.checked),
        "editions": editions,
        "is_last": editions[-1].pk == survey.pk,
        "intact": intact(survey) if survey.is_frozen else None,
        "photographs": list(survey.visit_object.photographs.all()[:400]),
        "first": numbers_before(survey) is None,
    }


def edition_differences(older: Survey, newer: Survey) -> list[dict[str, object]]:
    """What two editions say differently: one line for each field of each mark, then of the survey."""
    found: list[dict[str, object]] = []
    olds = {s.mark.number: s for s in older.sightings.select_related("mark")}
    news = {s.mark.number: s for s in newer.sightings.select_related("mark")}
    names = [f.name for f in Sighting._meta.concrete_fields]
    names = [n for n in names if n not in ("id", "version", "mark", "survey", "checked")]
    for number in sorted(olds.keys() | news.keys()):
        a, b = olds.get(number), news.get(number)
        if a is None or b is None:
            found.append({"number": number, "field": "", "then": "" if a is None else a.kind,
                          "now": "" if b is None else b.kind})  # fmt: skip
            continue
        for name in names:
            if getattr(a, name) != getattr(b, name):
                found.append(
                    {"number": number, "field": name, "then": getattr(a, name), "now": getattr(b, name)}
                )
    for name in ("purpose", "lights", "not_examined", "summary", "opinion"):
        if getattr(older, name) != getattr(newer, name):
            found.append(
                {"number": "", "field": name, "then": getattr(older, name), "now": getattr(newer, name)}
            )
    return found


def part_of_visit(row: VisitObject) -> dict[str, object]:
    """Counts for the visit's page: three queries for each object, however many photographs there are."""
    survey = row.surveys.order_by("-edition").first()
    counts: dict[str, int] = {}
    if survey is not None:
        counts = survey.sightings.aggregate(marks=Count("id"), unchecked=Count("id", filter=Q(checked=False)))
    return {
        "row": row,
        "survey": survey,
        "counts": counts,
        "photographs": row.photographs.count(),
        "here": row.visit.arrived_at is not None,
    }


def last_survey(thing: Object) -> Survey | None:
    """The last edition of the last survey of an object."""
    return thing.surveys.order_by("-visit_object__visit__number", "-edition").first()


def part_of_object(thing: Object) -> dict[str, object]:
    """The last chart of an object, each mark with when it was first and last seen."""
    survey = last_survey(thing)
    if survey is None:
        return {"survey": None}
    rows = survey_rows(survey)
    marks = {m.pk: m for m in thing.marks.select_related("first_seen")}
    lines = [{"row": r, "first": marks[r.sighting.mark_id].first_seen.at, "last": survey.at} for r in rows]
    return {"survey": survey, "lines": lines, "sheet": chart_layout(shape_of(thing)), "rows": rows}


def mark_history(mark: Mark) -> dict[str, object]:
    """One mark through the years: the last edition of each visit, its photographs, what it grew by."""
    last: dict[int, Sighting] = {}
    for s in mark.sightings.select_related("survey__visit_object__visit", "survey__who").order_by(
        "survey__visit_object__visit__number", "survey__edition"
    ):
        last[s.survey.visit_object.visit.number] = s
    seen = list(last.values())
    measured = [s for s in seen if s.length_mm is not None and s.checked]
    years = [s.survey.at.timestamp() / YEAR for s in measured]
    return {
        "mark": mark,
        "seen": seen,
        "measured": measured,
        "growth": growth(years, [float(s.length_mm) for s in measured]) if measured else None,
        "years": years,
        "areas": list(mark.areas.select_related("photograph").order_by("at")),
        "photographs": list(mark.photographs.order_by("at")[:200]),
    }
