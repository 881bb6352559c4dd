"""Lines of the varnish log, the finger on what dries, and the page of clocks."""

from datetime import timedelta
from uuid import UUID

from django.contrib import messages
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import path
from django.utils.translation import gettext as _

from purfling.craft.varnish.water import water_cautions
from purfling.shop.access import fetch, page
from purfling.shop.domain import clock
from purfling.shop.domain.coat import add_line, look_with_finger
from purfling.shop.domain.coat_wait import feed_waits
from purfling.shop.forms.varnish import LineForm, LookForm
from purfling.shop.models import FingerLook, Object, VarnishLine
from purfling.shop.queries.coat_clock import clocks_of, coats_now
from purfling.shop.queries.room import room_now
from purfling.shop.queries.varnish import entries_of, language, open_row, sheet_of
from purfling.shop.views.ways_in import back_to
from purfling.words import note_text

LINES = VarnishLine.objects.select_related("object__owner", "recipe", "who", "visit_object__visit")


def _task(request: HttpRequest) -> str:
    given = request.GET.get("task", "")
    return given if given in VarnishLine.Task.values else VarnishLine.Task.CLEAN


@page(methods=("GET", "POST"))
def new(request: HttpRequest, id: UUID) -> HttpResponse:
    """A new line of the log: ``?task=``."""
    thing = fetch(Object.objects.select_related("owner"), id)
    task = _task(request)
    begin = {k: v for k, v in room_now().items() if v is not None}
    form = LineForm(request.POST or None, thing=thing, task=task, initial=begin)
    if request.method == "POST" and form.is_valid():
        values = dict(form.cleaned_data)
        material, lot = values.pop("material"), values.pop("lot")
        with transaction.atomic():
            line = add_line(
                thing=thing,
                task=task,
                who=request.user,
                materials=[(material, lot)] if material is not None else [],
                visit_object=open_row(thing),
                word=request.POST.get("word", ""),
                **values,
            )
            fed = feed_waits(line=line, who=request.user)
        if fed:
            messages.success(request, _("The wait on the work list follows the clock."))
        return redirect("varnish_line", line.pk)
    entries = entries_of(thing)
    context = {
        "object": thing,
        "form": form,
        "task": task,
        "tasks": VarnishLine.Task.values,
        "drawing": sheet_of(thing, entries),
        "closed": [e for e in entries if e.kind == "closed"],
        "forbidden": [e for e in entries if e.sign == "forbidden"],
    }
    return render(request, "shop/varnish_line_form.html", context)


@page()
def line(request: HttpRequest, id: UUID) -> HttpResponse:
    """One line: what it was made of, its clocks, its looks, its water."""
    one = fetch(LINES.prefetch_related("looks__who", "used__material", "used__lot"), id)
    kinds = {k for u in one.used.all() for k in u.material.kinds}
    watery = {"water", "wetting", "alkali"} & (kinds | {p[0] for p in one.mixture})
    notes = water_cautions(one.ph, one.conductivity_us_cm, "wetting" in kinds) if watery else ()
    context = {
        "line": one,
        "clocks": clocks_of(one) if one.dries else (),
        "bears": FingerLook.Bears.values,
        "water": [note_text(n, language()) for n in notes],
    }
    return render(request, "shop/varnish_line.html", context)


@page(methods=("POST",))
def look(request: HttpRequest, id: UUID) -> HttpResponse:
    """A finger on it."""
    one = fetch(LINES, id)
    form = LookForm(request.POST)
    if form.is_valid():
        hours = form.cleaned_data["hours"]
        again = clock.now() + timedelta(hours=hours) if hours else None
        look_with_finger(
            line=one,
            bears=form.cleaned_data["bears"],
            who=request.user,
            at=form.cleaned_data["at"],
            again_at=again,
        )
    return back_to(request, request.POST.get("next", "") or f"/varnish-line/{one.pk}")


@page()
def clocks(request: HttpRequest) -> HttpResponse:
    """What dries now, and what may touch it when."""
    return render(request, "shop/coat_clocks.html", {"coats": coats_now(), "bears": FingerLook.Bears.values})


urlpatterns = [
    path("object/<uuid:id>/varnish/new", new, name="varnish_line_new"),
    path("varnish-line/<uuid:id>", line, name="varnish_line"),
    path("varnish-line/<uuid:id>/look", look, name="varnish_look"),
    path("drying", clocks, name="coat_clocks"),
]
