"""The history of an object, and the history of a record."""

from uuid import UUID

from django.apps import apps
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import path
from django.utils.translation import get_language

from purfling.shop.access import fetch, is_owner, page, sealed_for
from purfling.shop.charts import chart_of, time_line
from purfling.shop.models import Change, Object
from purfling.shop.queries.history import history_of_object

MOST = 200  # lines of history that a page shows, the newest
# Whose history an assistant may read, less the sealed fields; every other record's is the owner's alone.
TOLD_TO_ASSISTANTS = frozenset(
    {"player", "object", "visit", "visitobject", "card", "reading", "loan", "reckoning"}
)


@page()
def history(request: HttpRequest, id: UUID) -> HttpResponse:
    """All visits on one time line, every reading as a series."""
    thing = fetch(Object.objects.select_related("owner"), id)
    found = history_of_object(thing, (get_language() or "en")[:2])
    found["charts"] = [(s, chart_of(s)) for s in found["series"] if not s.once]
    found["once"] = [s for s in found["series"] if s.once]
    found["line"] = time_line(found["visits"])
    return render(request, "shop/history.html", found)


@page()
def changes(request: HttpRequest, id: UUID) -> HttpResponse:
    """Who changed what of a record, when, from what to what; sealed fields are the owner's."""
    lines = list(Change.objects.filter(record=id).select_related("who").order_by("-version", "-id")[:MOST])
    if not lines:
        raise Http404
    model = apps.get_model("shop", lines[0].what)
    if not is_owner(request.user) and lines[0].what not in TOLD_TO_ASSISTANTS:
        raise Http404
    hidden = sealed_for(request.user, model)
    for line in lines:
        names = [n for n in {**line.before, **line.after} if n not in hidden]
        line.rows = [(n, line.before.get(n, ""), line.after.get(n, "")) for n in sorted(names)]
    return render(request, "shop/changes.html", {"lines": lines})


urlpatterns = [
    path("object/<uuid:id>/history", history, name="history"),
    path("changes/<uuid:id>", changes, name="changes"),
]
