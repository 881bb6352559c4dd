"""Spot tests: a new one, its page, its picture, what follows from it."""

from uuid import UUID

from django.http import FileResponse, Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import path

from purfling.shop.access import fetch, page
from purfling.shop.domain.spot import add_picture, add_spot, judge_spot
from purfling.shop.domain.varnish_picture import keep_picture, path_of
from purfling.shop.forms.varnish import SpotForm
from purfling.shop.models import Object, SpotTest
from purfling.shop.queries.varnish import entries_of, open_row, sheet_of

SPOTS = SpotTest.objects.select_related("object__owner", "material", "lot", "who")


@page(methods=("GET", "POST"))
def new(request: HttpRequest, id: UUID) -> HttpResponse:
    """A new spot test; what was tried before stands above it, so that nothing is tried twice."""
    thing = fetch(Object.objects.select_related("owner"), id)
    form = SpotForm(request.POST or None, request.FILES or None, thing=thing)
    if request.method == "POST" and form.is_valid():
        values = dict(form.cleaned_data)
        upload = values.pop("picture")
        spot = add_spot(
            thing=thing,
            who=request.user,
            visit_object=open_row(thing),
            word=request.POST.get("word", ""),
            **values,
        )
        if upload:
            add_picture(spot=spot, sha256=keep_picture(upload), who=request.user)
        return redirect("spot", spot.pk)
    entries = entries_of(thing)
    tests = [e for e in entries if e.kind == "test"]
    context = {"object": thing, "form": form, "drawing": sheet_of(thing, entries), "tests": tests}
    return render(request, "shop/spot_form.html", context)


@page()
def spot(request: HttpRequest, id: UUID) -> HttpResponse:
    """One test."""
    one = fetch(SPOTS, id)
    return render(request, "shop/spot.html", {"spot": one, "follows": SpotTest.Follows.values})


@page("owner", ("POST",))
def judge(request: HttpRequest, id: UUID) -> HttpResponse:
    """What follows, decided anew."""
    one = fetch(SPOTS, id)
    judge_spot(
        spot=one,
        follows=request.POST.get("follows", ""),
        word=request.POST.get("word", ""),
        who=request.user,
    )
    return redirect("spot", one.pk)


@page()
def picture(request: HttpRequest, id: UUID) -> HttpResponse:
    """Its photograph, without place and owner."""
    one = fetch(SPOTS, id)
    if not one.picture:
        return redirect("spot", one.pk)
    path = path_of(one.picture)
    if not path.exists():
        raise Http404
    answer = FileResponse(path.open("rb"), content_type="image/jpeg")
    answer["Cache-Control"] = "private, max-age=86400"
    return answer


@page(methods=("POST",))
def picture_add(request: HttpRequest, id: UUID) -> HttpResponse:
    """Add its photograph."""
    one = fetch(SPOTS, id)
    upload = request.FILES.get("picture")
    if upload is not None:
        add_picture(spot=one, sha256=keep_picture(upload), who=request.user)
    return redirect("spot", one.pk)


urlpatterns = [
    path("object/<uuid:id>/spot", new, name="spot_new"),
    path("spot/<uuid:id>", spot, name="spot"),
    path("spot/<uuid:id>/judge", judge, name="spot_judge"),
    path("spot/<uuid:id>/picture", picture, name="spot_picture"),
    path("spot/<uuid:id>/picture/add", picture_add, name="spot_picture_add"),
]
