"""The tray's pages."""

from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import path, reverse

from purfling.shop.access import fetch, page
from purfling.shop.domain.tray import lay_in, lay_in_all, name_part, put_back, put_back_all
from purfling.shop.models import LoosePart
from purfling.shop.queries.catalogue import shop_catalogue
from purfling.shop.queries.tray import tray_page
from purfling.shop.views.work import ROWS, WORKS
from purfling.shop.views.work_answer import answered

PARTS = LoosePart.objects.select_related("visit_object__visit", "visit_object__object")


def _number(text: str | None) -> int | None:
    return int(text) if text and text.isdecimal() and len(text) < 3 else None


def address(row_id: UUID) -> str:
    """The tray of an object."""
    return reverse("tray", args=[row_id])


@page()
def tray(request: HttpRequest, id: UUID) -> HttpResponse:
    """Loose parts by hole and place."""
    return render(request, "shop/tray.html", tray_page(fetch(ROWS, id)))


@page(methods=("POST",))
def put_in(request: HttpRequest, id: UUID) -> HttpResponse:
    """One part into the tray."""
    row = fetch(ROWS, id)
    part, _sep, hole = request.POST.get("part", "").partition("-")
    given = {"place": request.POST.get("place", ""), "word": request.POST.get("word", "")}
    return answered(
        request,
        lambda: lay_in(row=row, part=part, hole=_number(hole) or 0, who=request.user, **given),
        address(row.pk),
    )


@page(methods=("POST",))
def back(request: HttpRequest, id: UUID) -> HttpResponse:
    """One part back on."""
    part = fetch(PARTS, id)
    hole = _number(request.POST.get("hole"))
    word = request.POST.get("word", "")
    return answered(
        request,
        lambda: put_back(part=part, hole=hole, who=request.user, word=word),
        address(part.visit_object_id),
    )


@page(methods=("POST",))
def name(request: HttpRequest, id: UUID) -> HttpResponse:
    """A part that does not go back on."""
    part = fetch(PARTS, id)
    envelope = request.POST.get("to") == "envelope"
    word = request.POST.get("word", "")
    return answered(
        request,
        lambda: name_part(part=part, who=request.user, word=word, envelope=envelope),
        address(part.visit_object_id),
    )


def _parts_of(work, side: str) -> tuple[str, ...]:
    offered = shop_catalogue().get(work.code)
    return getattr(offered.row, side) if offered and offered.row else ()


@page(methods=("POST",))
def parts_in(request: HttpRequest, id: UUID) -> HttpResponse:
    """What this operation takes off, in one touch."""
    work = fetch(WORKS, id)
    row, parts = work.visit_object, _parts_of(work, "parts")
    return answered(request, lambda: lay_in_all(row=row, parts=parts, who=request.user), address(row.pk))


@page(methods=("POST",))
def parts_back(request: HttpRequest, id: UUID) -> HttpResponse:
    """What this operation puts back, in one touch."""
    work = fetch(WORKS, id)
    row, parts = work.visit_object, _parts_of(work, "back")
    return answered(request, lambda: put_back_all(row=row, parts=parts, who=request.user), address(row.pk))


urlpatterns = [
    path("tray/<uuid:id>", tray, name="tray"),
    path("tray/<uuid:id>/in", put_in, name="tray_in"),
    path("part/<uuid:id>/back", back, name="part_back"),
    path("part/<uuid:id>/name", name, name="part_name"),
    path("operation/<uuid:id>/parts-in", parts_in, name="work_parts_in"),
    path("operation/<uuid:id>/parts-back", parts_back, name="work_parts_back"),
]
