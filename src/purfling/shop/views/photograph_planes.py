"""Photographs as measures: scale, areas, one laid over another with slider and difference."""

import json
from typing import Any
from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import path

from purfling.craft.refusals import Refusal
from purfling.shop.access import fetch, page
from purfling.shop.domain.photograph_plane import lay_photograph_over, set_scale, touch_area
from purfling.shop.domain.photograph_store import copy_path
from purfling.shop.laid import picture_of
from purfling.shop.models import Alignment, Photograph
from purfling.shop.views.photographs import fetch_mark, send_copy


def _points(text: str) -> list[Any]:
    """A list of touched places from a hidden field."""
    try:
        found = json.loads(text) if len(text) < 20_000 else None
    except ValueError:
        found = None
    if not isinstance(found, list):
        raise Refusal("survey.not_understood", fields="points")
    return found


def _pairs_of_numbers(points: list[Any]) -> list[list[float]]:
    try:
        return [[float(x), float(y)] for x, y in points]
    except (TypeError, ValueError) as wrong:
        raise Refusal("survey.not_understood", fields="points") from wrong


def _mm(*texts: str) -> list[float]:
    """The lengths that were given, comma or point."""
    try:
        return [float(t.replace(",", ".")) for t in texts if t.strip()]
    except ValueError as wrong:
        raise Refusal("survey.not_understood", fields="mm") from wrong


@page(methods=("POST",))
def scale(request: HttpRequest, id: UUID) -> HttpResponse:
    """Scale by two touched points, or by the corners of a rectangle."""
    one = fetch(Photograph, id)
    given = request.POST
    points = _pairs_of_numbers(_points(given.get("points", "")))
    size = _mm(given.get("mm", ""), given.get("height_mm", "") if len(points) == 4 else "")
    set_scale(photograph=one, points=points, size_mm=size, who=request.user)
    return redirect("photograph", one.pk)


@page(methods=("POST",))
def area(request: HttpRequest, id: UUID) -> HttpResponse:
    """The area of a touched outline."""
    one = fetch(Photograph.objects.select_related("object"), id)
    number = request.POST.get("mark", "")
    mark = fetch_mark(one, int(number)) if number.isdecimal() and len(number) < 6 else None
    points = _pairs_of_numbers(_points(request.POST.get("points", "")))
    touch_area(photograph=one, points=points, mark=mark, who=request.user)
    return redirect("photograph", one.pk)


@page(methods=("GET", "POST"))
def lay(request: HttpRequest, id: UUID) -> HttpResponse:
    """Touch the same places on an earlier picture and on this one."""
    later = fetch(Photograph.objects.select_related("object"), id)
    given = request.POST.get("over", request.GET.get("over", ""))
    try:
        earlier = Photograph.objects.filter(pk=UUID(given), object_id=later.object_id).first()
    except ValueError:
        earlier = None
    if earlier is None:
        return redirect("photograph", later.pk)
    if request.method == "POST":
        pairs = [_pairs_of_numbers(p) for p in _points(request.POST.get("pairs", "[]"))]
        if any(len(p) != 2 for p in pairs):
            raise Refusal("survey.not_understood", fields="pairs")
        made = lay_photograph_over(earlier=earlier, later=later, pairs=pairs, who=request.user)
        return redirect("alignment", made.pk)
    return render(request, "shop/photograph_lay.html", {"earlier": earlier, "later": later})


def _alignment(id: UUID) -> Alignment:
    return fetch(Alignment.objects.select_related("earlier__object", "later"), id)


@page()
def alignment(request: HttpRequest, id: UUID) -> HttpResponse:
    """Two dates of one view: slider and difference."""
    return render(request, "shop/alignment.html", {"alignment": _alignment(id)})


def _shown(id: UUID, which: str) -> HttpResponse:
    one = _alignment(id)
    if all(copy_path(p, "large").exists() for p in (one.earlier_id, one.later_id)):
        picture_of(one, which)
    return send_copy(one.pk, which)


@page()
def laid(request: HttpRequest, id: UUID) -> HttpResponse:
    """The later picture in the frame of the earlier one."""
    return _shown(id, "laid")


@page()
def difference(request: HttpRequest, id: UUID) -> HttpResponse:
    """What differs after the alignment."""
    return _shown(id, "difference")


urlpatterns = [
    path("photograph/<uuid:id>/scale", scale, name="photograph_scale"),
    path("photograph/<uuid:id>/area", area, name="photograph_area"),
    path("photograph/<uuid:id>/lay", lay, name="photograph_lay"),
    path("alignment/<uuid:id>", alignment, name="alignment"),
    path("alignment/<uuid:id>/laid", laid, name="alignment_laid"),
    path("alignment/<uuid:id>/difference", difference, name="alignment_difference"),
]
