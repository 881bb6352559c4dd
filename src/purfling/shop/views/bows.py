"""The survey of a bow: parts, wedges, the old lapping, warmth, the bow's order of work."""

from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import path, reverse

from purfling.shop.access import fetch, page
from purfling.shop.domain.bow import need_bow, set_lapping_failure, set_part, set_wedge, tick_step
from purfling.shop.domain.bow_warmth import allow_warmth, warm_part
from purfling.shop.models import VisitObject
from purfling.shop.queries.bow import choices, survey_page
from purfling.shop.views.work_answer import answered

ROW = VisitObject.objects.select_related("visit__player", "object")


def _back(row: VisitObject, place: str) -> str:
    return f"{reverse('bow', args=[row.pk])}#{place}"


def _seen(request: HttpRequest) -> int | None:
    text = request.POST.get("seen", "")
    return int(text) if text.isascii() and text.isdigit() and len(text) < 9 else None


@page()
def bow(request: HttpRequest, id: UUID) -> HttpResponse:
    """The survey of a bow in a visit."""
    row = need_bow(fetch(ROW, id))
    context = {"row": row, "visit": row.visit, "bow": survey_page(row), "choices": choices()}
    return render(request, "shop/bow.html", context)


@page(methods=("POST",))
def part(request: HttpRequest, id: UUID) -> HttpResponse:
    """Material, species, state and words of one part."""
    row, post = fetch(ROW, id), request.POST
    return answered(
        request,
        lambda: set_part(
            row=row,
            part=post.get("part", ""),
            material=post.get("material", ""),
            species_key=post.get("species", ""),
            state=post.get("state", ""),
            words=post.get("words", ""),
            seen=_seen(request),
            who=request.user,
        ),
        _back(row, f"part-{post.get('part', '')[:12]}"),
    )


@page(methods=("POST",))
def wedge(request: HttpRequest, id: UUID) -> HttpResponse:
    """The wedge of one mortise."""
    row, post = fetch(ROW, id), request.POST
    return answered(
        request,
        lambda: set_wedge(
            row=row,
            place=post.get("place", ""),
            fit=post.get("fit", ""),
            wood=post.get("wood", ""),
            went=post.get("went", ""),
            photograph=post.get("photograph", ""),
            words=post.get("words", ""),
            seen=_seen(request),
            who=request.user,
        ),
        _back(row, "wedges"),
    )


@page(methods=("POST",))
def lapping(request: HttpRequest, id: UUID) -> HttpResponse:
    """Why the old lapping failed."""
    row, post = fetch(ROW, id), request.POST
    return answered(
        request,
        lambda: set_lapping_failure(
            row=row,
            failure=post.get("failure", ""),
            words=post.get("words", ""),
            seen=_seen(request),
            who=request.user,
        ),
        _back(row, "old-lapping"),
    )


@page(methods=("POST",))
def step(request: HttpRequest, id: UUID) -> HttpResponse:
    """A step that stands on no work list is done, or not yet after all."""
    row = fetch(ROW, id)
    key = request.POST.get("step", "")
    return answered(request, lambda: tick_step(row=row, key=key, who=request.user), _back(row, "order"))


@page("owner", methods=("POST",))
def allow(request: HttpRequest, id: UUID) -> HttpResponse:
    """What the bow's owner said before a stuck part is warmed, and the price they were told."""
    row, post = fetch(ROW, id), request.POST
    return answered(
        request,
        lambda: allow_warmth(
            row=row,
            part=post.get("part", ""),
            yes=post.get("yes") == "1",
            by=post.get("by", ""),
            how=post.get("how", ""),
            price=post.get("price", ""),
            words=post.get("words", ""),
            who=request.user,
        ),
        _back(row, "warmth"),
    )


@page(methods=("POST",))
def warm(request: HttpRequest, id: UUID) -> HttpResponse:
    """A stuck slide or ring was warmed; refused without the yes and on what must not be warmed."""
    row = fetch(ROW, id)
    chosen, word = request.POST.get("part", ""), request.POST.get("word", "")
    return answered(
        request,
        lambda: warm_part(row=row, part=chosen, who=request.user, word=word),
        _back(row, "warmth"),
    )


urlpatterns = [
    path("bow/<uuid:id>", bow, name="bow"),
    path("bow/<uuid:id>/part", part, name="bow_part"),
    path("bow/<uuid:id>/wedge", wedge, name="bow_wedge"),
    path("bow/<uuid:id>/lapping", lapping, name="bow_lapping"),
    path("bow/<uuid:id>/step", step, name="bow_step"),
    path("bow/<uuid:id>/warmth", allow, name="bow_allow_warmth"),
    path("bow/<uuid:id>/warm", warm, name="bow_warm"),
]
