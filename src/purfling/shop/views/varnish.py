"""The varnish of an object: its sheet, its log, what is closed, and the question before something begins."""

from uuid import UUID

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import path
from django.utils.translation import gettext as _

from purfling.shop.access import fetch, page
from purfling.shop.domain.closed import close_place, lift_closed
from purfling.shop.domain.stops import doing_words, pass_stops
from purfling.shop.forms.varnish import AskForm, ClosedForm
from purfling.shop.models import ClosedPlace, Object
from purfling.shop.queries.varnish import entries_of, sheet_of, varnish_page

THINGS = Object.objects.select_related("owner")


def touched(request: HttpRequest) -> tuple[str, float, float] | None:
    """The place that was touched on the sheet: ``?view=&x=&y=``."""
    try:
        x, y = float(request.GET.get("x", "")), float(request.GET.get("y", ""))
    except ValueError:
        return None
    view = request.GET.get("view", "")[:16]
    return (view, x, y) if view and 0 <= x <= 1 and 0 <= y <= 1 else None


@page()
def varnish(request: HttpRequest, id: UUID) -> HttpResponse:
    """The sheet of the varnish."""
    thing = fetch(THINGS, id)
    return render(request, "shop/varnish.html", varnish_page(thing, touched(request)) | {"ask": AskForm()})


@page(methods=("POST",))
def ask(request: HttpRequest, id: UUID) -> HttpResponse:
    """Before something begins: the stop, or what the book knows."""
    thing = fetch(THINGS, id)
    form = AskForm(request.POST)
    if not form.is_valid() or not (form.cleaned_data["task"] or form.cleaned_data["material"]):
        return redirect("varnish", thing.pk)
    task, material = form.cleaned_data["task"], form.cleaned_data["material"]
    passed = pass_stops(
        thing, who=request.user, word=request.POST.get("word", ""), operation=task, material=material
    )
    if passed is not None:
        messages.success(request, _("Overruled with a word; it stands in the log."))
        return redirect("varnish", thing.pk)
    kinds = set(material.kinds) if material is not None else set()
    tests = [e for e in entries_of(thing) if e.kind == "test" and (kinds & set(e.row.kinds) or not kinds)]
    context = {
        "object": thing,
        "doing": doing_words(task, "", material),
        "tests": tests,
        "material": material,
    }
    return render(request, "shop/varnish_asked.html", context)


@page("owner", ("GET", "POST"))
def close(request: HttpRequest, id: UUID) -> HttpResponse:
    """Do not touch: a place or the whole object."""
    thing = fetch(THINGS, id)
    form = ClosedForm(request.POST or None, thing=thing)
    if request.method == "POST" and form.is_valid():
        close_place(thing=thing, who=request.user, **form.cleaned_data)
        return redirect("varnish", thing.pk)
    entries = entries_of(thing)
    context = {"object": thing, "form": form, "drawing": sheet_of(thing, entries)}
    return render(request, "shop/closed_form.html", context)


@page("owner", ("POST",))
def lift(request: HttpRequest, id: UUID) -> HttpResponse:
    """Open it again, with a word."""
    row = fetch(ClosedPlace.objects.select_related("object"), id)
    lift_closed(closed=row, who=request.user, word=request.POST.get("word", ""))
    return redirect("varnish", row.object_id)


urlpatterns = [
    path("object/<uuid:id>/varnish", varnish, name="varnish"),
    path("object/<uuid:id>/varnish/ask", ask, name="varnish_ask"),
    path("object/<uuid:id>/close", close, name="close_place"),
    path("closed/<uuid:id>/lift", lift, name="closed_lift"),
]
