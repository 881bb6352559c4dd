"""The chart of marks: a survey's page, marks set and looked at again, freezing, editions, the paper."""

from typing import Any
from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import path, reverse
from django.utils.translation import get_language

from purfling.craft.refusals import Refusal
from purfling.drawing.drawings.chart_sheet import chart_sheet
from purfling.drawing.drawings.object_outlines import view_names
from purfling.shop.access import fetch, page
from purfling.shop.domain.mark import change_sighting, look_again, look_at_all_again, record_mark
from purfling.shop.domain.survey import begin_edition, begin_survey, change_survey, freeze_survey, survey_of
from purfling.shop.forms.mark import EditionForm, NewMarkForm, SightingForm, SurveyForm
from purfling.shop.models import Mark, Object, Sighting, Survey, VisitObject
from purfling.shop.queries.survey import edition_differences, mark_history, sheet_of, survey_page

WITH = ("visit_object__visit__player", "object__owner", "who", "frozen_by")


def _language() -> str:
    return (get_language() or "en")[:2]


def _survey(id: UUID) -> Survey:
    return fetch(Survey.objects.select_related(*WITH), id)


def _closer(request: HttpRequest, thing: Object) -> str:
    given = request.GET.get("closer", request.POST.get("closer", ""))
    return given if given in view_names(thing.is_bow) else ""


def _to(survey: Survey, closer: str = "", mark: int | None = None) -> HttpResponse:
    query = "&".join(p for p in (f"closer={closer}" if closer else "", f"mark={mark}" if mark else "") if p)
    address = reverse("survey", args=[survey.pk])
    return redirect(f"{address}?{query}" if query else address)


def _context(request: HttpRequest, one: Survey, form: NewMarkForm | None = None) -> dict[str, Any]:
    closer = _closer(request, one.object)
    context: dict[str, Any] = survey_page(one)
    chosen = request.GET.get("mark", "")
    number = int(chosen) if chosen.isdecimal() and len(chosen) < 6 else None
    sheet = sheet_of(one, closer)
    marks = [r.on_chart(number) for r in context["rows"]]
    fresh = "old" if context["first"] else "new"
    row = next((r for r in context["rows"] if r.number == number), None)
    return context | {
        "drawing": chart_sheet(sheet, marks, _language(), size=7.0),
        "closer": closer,
        "views": view_names(one.object.is_bow),
        "chosen": row,
        "sighting_form": SightingForm(
            instance=row.sighting, user=request.user, is_bow=one.object.is_bow, prefix="m"
        )
        if row is not None
        else None,
        "form": form
        or NewMarkForm(user=request.user, is_bow=one.object.is_bow, initial={"age": fresh, "closer": closer}),
        "edition_form": EditionForm(),
    }


@page()
def survey(request: HttpRequest, id: UUID) -> HttpResponse:
    """The chart: the object's outlines with every mark, the list, the photographs."""
    return render(request, "shop/survey.html", _context(request, _survey(id)))


@page(methods=("POST",))
def begin(request: HttpRequest, id: UUID) -> HttpResponse:
    """Begin the survey of an object in a visit, or go on with it."""
    row = fetch(VisitObject.objects.select_related("visit", "object"), id)
    return _to(begin_survey(row=row, who=request.user))


@page(methods=("GET", "POST"))
def edit(request: HttpRequest, id: UUID) -> HttpResponse:
    """Purpose, lights, what was not examined, summary, opinion."""
    one = _survey(id)
    form = SurveyForm(request.POST or None, instance=one, user=request.user)
    if request.method == "POST" and form.is_valid():
        change_survey(survey=one, who=request.user, seen=form.version_seen, **form.values())
        return _to(one)
    return render(request, "shop/survey_form.html", {"form": form, "survey": one})


@page(methods=("POST",))
def mark_new(request: HttpRequest, id: UUID) -> HttpResponse:
    """A mark touched on the chart."""
    one = _survey(id)
    form = NewMarkForm(request.POST, user=request.user, is_bow=one.object.is_bow)
    if not form.is_valid():
        return render(request, "shop/survey.html", _context(request, one, form), status=422)
    values = form.values()
    sheet = sheet_of(one, _closer(request, one.object))
    found = [sheet.locate(x, y) for x, y in values.pop("touched")]
    places = [f for f in found if f is not None]
    if len(places) != len(found) or len({p[0] for p in places}) != 1:
        raise Refusal("survey.one_view")
    closer = values.pop("closer")
    seen = record_mark(
        survey=one,
        view=places[0][0],
        points=[(u, v) for _, u, v in places],
        who=request.user,
        **{k: v for k, v in values.items() if v is not None},
    )
    return _to(one, closer, seen.mark.number)


@page(methods=("POST",))
def sighting(request: HttpRequest, id: UUID) -> HttpResponse:
    """What this survey says of a mark is changed."""
    one = fetch(Sighting.objects.select_related("survey__object", "survey__visit_object", "mark"), id)
    bow = one.survey.object.is_bow
    form = SightingForm(request.POST, instance=one, user=request.user, is_bow=bow, prefix="m")
    if form.is_valid():
        fresh = Sighting.objects.select_related("survey__object", "mark").get(pk=one.pk)
        change_sighting(sighting=fresh, who=request.user, seen=form.version_seen, **form.values())
        return _to(one.survey, _closer(request, one.survey.object), one.mark.number)
    raise Refusal("survey.not_understood", fields=", ".join(sorted(form.errors))[:120])


@page(methods=("POST",))
def sighting_again(request: HttpRequest, id: UUID) -> HttpResponse:
    """A mark of last time was looked at again: still there, or gone."""
    one = fetch(Sighting.objects.select_related("survey__object", "mark"), id)
    look_again(sighting=one, who=request.user, gone=request.POST.get("gone") == "1")
    return _to(one.survey, _closer(request, one.survey.object))


@page(methods=("POST",))
def all_again(request: HttpRequest, id: UUID) -> HttpResponse:
    """All marks of last time that were not yet looked at are still there."""
    one = _survey(id)
    look_at_all_again(survey=one, who=request.user)
    return _to(one)


@page(methods=("POST",))
def freeze(request: HttpRequest, id: UUID) -> HttpResponse:
    """The survey stands from now on."""
    one = _survey(id)
    freeze_survey(survey=one, who=request.user)
    return _to(one)


@page(methods=("POST",))
def edition(request: HttpRequest, id: UUID) -> HttpResponse:
    """A further edition of a frozen survey."""
    one = _survey(id)
    fresh = begin_edition(survey=one, because=request.POST.get("because", ""), who=request.user)
    return _to(fresh)


@page()
def compare(request: HttpRequest, id: UUID) -> HttpResponse:
    """The first edition and the last side by side."""
    one = _survey(id)
    first = one.visit_object.surveys.select_related(*WITH).order_by("edition").first()
    last = survey_of(one.visit_object)
    context = {"first": first, "last": last, "lines": edition_differences(first, last), "survey": one}
    return render(request, "shop/survey_compare.html", context)


@page()
def report(request: HttpRequest, id: UUID) -> HttpResponse:
    """The condition report as PDF; its name tells the visit and the edition, nobody's name."""
    from purfling.papers.condition_report.build import condition_report
    from purfling.shop.queries.condition import condition_of

    one = _survey(id)
    given = request.GET.get("language", "")
    language = given if given in ("en", "de") else _language()
    answer = HttpResponse(
        condition_report(condition_of(one, language), language), content_type="application/pdf"
    )
    name = f"condition-{one.visit_object.visit.number}-{one.edition}.pdf"
    answer["Content-Disposition"] = f'inline; filename="{name}"'
    return answer


@page()
def mark(request: HttpRequest, id: UUID) -> HttpResponse:
    """One mark through the years."""
    from purfling.drawing.drawings.mark_growth import mark_growth

    context = mark_history(fetch(Mark.objects.select_related("object__owner", "first_seen"), id))
    seen = context["measured"]
    if len(seen) >= 2:
        points = [(s.survey.at, float(s.length_mm)) for s in seen]
        context["drawing"] = mark_growth(points, language=_language())
    return render(request, "shop/mark.html", context)


urlpatterns = [
    path("visit-object/<uuid:id>/survey", begin, name="survey_begin"),
    path("survey/<uuid:id>", survey, name="survey"),
    path("survey/<uuid:id>/edit", edit, name="survey_edit"),
    path("survey/<uuid:id>/mark", mark_new, name="mark_new"),
    path("survey/<uuid:id>/again", all_again, name="survey_again"),
    path("survey/<uuid:id>/freeze", freeze, name="survey_freeze"),
    path("survey/<uuid:id>/edition", edition, name="survey_edition"),
    path("survey/<uuid:id>/report", report, name="survey_report"),
    path("survey/<uuid:id>/compare", compare, name="survey_compare"),
    path("sighting/<uuid:id>", sighting, name="sighting"),
    path("sighting/<uuid:id>/again", sighting_again, name="sighting_again"),
    path("mark/<uuid:id>", mark, name="mark"),
]
