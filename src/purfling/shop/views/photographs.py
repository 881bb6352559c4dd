"""Photographs: arriving piece by piece, shown as copies, recognised again."""

import json
import tempfile
from pathlib import Path
from typing import Any
from urllib.parse import unquote
from uuid import UUID

from django.db.models import Q
from django.http import FileResponse, HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect, render
from django.templatetags.static import static
from django.urls import path, reverse
from django.utils.translation import get_language

from purfling.craft.refusals import Refusal
from purfling.drawing.drawings.object_outlines import view_names
from purfling.shop.access import fetch, page
from purfling.shop.domain.photograph import (
    change_photograph,
    keep_photograph,
    original_stands,
    recognise,
    show_mark,
)
from purfling.shop.domain.photograph_file import MOST_BYTES
from purfling.shop.domain.photograph_store import append, arriving_path, copy_path, offset_of, sweep
from purfling.shop.models import Mark, Photograph, Survey
from purfling.words import refusal_text

PIECE = 8 * 1024 * 1024
WITH = ("object__owner", "visit_object__visit__player", "who")


def _number(text: str) -> float | None:
    try:
        return float(text.replace(",", ".")) if text else None
    except ValueError as wrong:
        raise Refusal("photo.angle", value=text[:20]) from wrong


def _about(survey: Survey, given: Any) -> dict[str, Any]:
    """What is said of a photograph that arrives: mark, view, light."""
    mark = given.get("mark", "")
    found = None
    if mark:
        try:
            found = Mark.objects.filter(pk=UUID(mark), object_id=survey.object_id).first()
        except ValueError:
            found = None
        if found is None:
            raise Refusal("photo.other_object")
    return {
        "mark": found,
        "view": given.get("view", "")[:16],
        "light": given.get("light", ""),
        "side": given.get("side", ""),
        "angle_deg": _number(given.get("angle_deg", "")),
    }


def _row(survey: Survey):
    return survey.visit_object


def _fetch_survey(id: UUID) -> Survey:
    return fetch(Survey.objects.select_related("visit_object__object", "visit_object__visit"), id)


@page(methods=("POST",))
def add(request: HttpRequest, id: UUID) -> HttpResponse:
    """Whole files in one form: the way without a script."""
    survey = _fetch_survey(id)
    about = _about(survey, request.POST)
    for given in request.FILES.getlist("picture"):
        if given.size > MOST_BYTES:
            raise Refusal("photo.too_big", size=given.size // 1024 // 1024, most=MOST_BYTES // 1024 // 1024)
        with tempfile.NamedTemporaryFile(dir=_scratch(), suffix=".part", delete=False) as stream:
            for piece in given.chunks():
                stream.write(piece)
        keep_photograph(
            path=Path(stream.name), name=given.name or "", row=_row(survey), who=request.user, **about
        )
    back = reverse("survey", args=[survey.pk])
    return redirect(f"{back}?mark={about['mark'].number}" if about["mark"] else back)


def _scratch() -> Path:
    from purfling.shop.domain.photograph_store import _folder

    return _folder("arriving")


@page(methods=("GET", "POST"))
def arriving(request: HttpRequest, id: UUID) -> HttpResponse:
    """A file in pieces: GET tells how much of it is here, POST puts the next piece behind it.

    ``key`` is the SHA-256 of the whole file, as the tablet reckoned it, or 64 digits of its own choice
    (``own=1``). When the last piece is here the photograph is kept, and the answer names it.
    """
    survey = _fetch_survey(id)
    try:
        place = arriving_path(survey.pk, request.GET.get("key", ""))
        if request.method != "POST":
            sweep()
            return JsonResponse({"offset": offset_of(place)})
        total, offset = _whole(request.GET.get("total")), _whole(request.GET.get("offset"))
        data = request.read(PIECE + 1)
        if len(data) > PIECE:
            raise Refusal("photo.piece", most=PIECE // 1024 // 1024)
        here = append(place, offset, total, data)
        if here < total or (total == 0 and data):
            return JsonResponse({"offset": here})
        return _arrived(request, survey, place)
    except Refusal as refusal:
        sentence = refusal_text(refusal, (get_language() or "en")[:2])
        return JsonResponse({"sentence": sentence}, status=422)


def _whole(text: str | None) -> int:
    if text is None or not text.isdecimal() or len(text) > 12:
        raise Refusal("photo.no_key")
    return int(text)


def _arrived(request: HttpRequest, survey: Survey, place: Path) -> HttpResponse:
    from purfling.shop.domain.photograph_file import sha256_of

    place.touch(0o600)
    if request.GET.get("own") != "1" and sha256_of(place) != request.GET["key"]:
        place.unlink(missing_ok=True)
        raise Refusal("photo.arrived_broken")
    try:
        about = _about(survey, request.GET)
    except Refusal:
        place.unlink(missing_ok=True)
        raise
    name = unquote(request.GET.get("name", ""))[:200]
    kept = keep_photograph(path=place, name=name, row=_row(survey), who=request.user, **about)
    return JsonResponse(
        {"photograph": str(kept.pk), "page": reverse("photograph", args=[kept.pk]), "offset": kept.size}
    )


@page()
def photograph(request: HttpRequest, id: UUID) -> HttpResponse:
    """One photograph: the picture, its light, its marks, its evidence, what it can be laid over."""
    one = fetch(Photograph.objects.select_related(*WITH), id)
    others = Photograph.objects.filter(object=one.object, ready=True).exclude(pk=one.pk)
    alike = others.filter(Q(view=one.view) & ~Q(view="") | Q(marks__in=one.marks.all())).distinct()
    marks = list(one.marks.order_by("number"))
    context = {
        "photograph": one,
        "marks": marks,
        "other_marks": Mark.objects.filter(object=one.object).exclude(pk__in=[m.pk for m in marks])[:300],
        "views": view_names(one.object.is_bow),
        "lights": Photograph.Light.values,
        "stands": original_stands(one),
        "alike": list(alike.order_by("-at")[:40]),
        "areas": list(one.areas.select_related("mark")),
        "survey": one.visit_object.surveys.order_by("-edition").first(),
        "scale_json": json.dumps(one.scale_points),
    }
    return render(request, "shop/photograph.html", context)


@page(methods=("POST",))
def edit(request: HttpRequest, id: UUID) -> HttpResponse:
    """View, light, words, a further mark that it shows."""
    one = fetch(Photograph.objects.select_related("object"), id)
    given = request.POST
    seen = given.get("seen", "")
    change_photograph(
        photograph=one,
        who=request.user,
        seen=int(seen) if seen.isdecimal() and len(seen) < 9 else None,
        view=given.get("view", ""),
        words=given.get("words", ""),
        light=given.get("light", ""),
        side=given.get("side", ""),
        angle_deg=_number(given.get("angle_deg", "")),
    )
    number = given.get("mark", "")
    if number.isdecimal() and len(number) < 6:
        show_mark(photograph=one, mark=fetch_mark(one, int(number)), who=request.user)
    return redirect("photograph", one.pk)


def fetch_mark(one: Photograph, number: int) -> Mark:
    """A mark of the same object by its number."""
    found = Mark.objects.filter(object_id=one.object_id, number=number).first()
    if found is None:
        raise Refusal("photo.other_object")
    return found


def send_copy(id: UUID | str, size: str) -> HttpResponse:
    """A copy's bytes, or the little picture that says it is not ready."""
    place = copy_path(id, size)
    if not place.exists():
        return redirect(static("shop/not_ready.svg"))
    answer = FileResponse(place.open("rb"), content_type="image/jpeg")
    answer["Cache-Control"] = "private, max-age=86400"
    answer["Content-Disposition"] = "inline"
    return answer


@page()
def small(request: HttpRequest, id: UUID) -> HttpResponse:
    """The small copy."""
    return send_copy(fetch(Photograph, id).pk, "small")


@page()
def large(request: HttpRequest, id: UUID) -> HttpResponse:
    """The large copy."""
    return send_copy(fetch(Photograph, id).pk, "large")


@page(methods=("GET", "POST"))
def check(request: HttpRequest) -> HttpResponse:
    """Is this file one of the book's photographs, unchanged? Nothing of it is kept."""
    context: dict[str, Any] = {}
    given = request.FILES.get("picture")
    if request.method == "POST" and given is not None:
        if given.size > MOST_BYTES:
            raise Refusal("photo.too_big", size=given.size // 1024 // 1024, most=MOST_BYTES // 1024 // 1024)
        with tempfile.NamedTemporaryFile(suffix=".part") as stream:
            for piece in given.chunks():
                stream.write(piece)
            stream.flush()
            context = recognise(path=Path(stream.name), name=given.name or "")
    return render(request, "shop/photograph_check.html", context)


urlpatterns = [
    path("survey/<uuid:id>/photograph", add, name="photograph_add"),
    path("survey/<uuid:id>/arriving", arriving, name="photograph_arriving"),
    path("photograph/<uuid:id>", photograph, name="photograph"),
    path("photograph/<uuid:id>/edit", edit, name="photograph_edit"),
    path("photograph/<uuid:id>/small", small, name="photograph_small"),
    path("photograph/<uuid:id>/large", large, name="photograph_large"),
    path("photographs/check", check, name="photograph_check"),
]
