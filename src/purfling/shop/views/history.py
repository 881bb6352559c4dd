"""The history of an object, and the history of a record."""

from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import path
from django.utils.translation import get_language

from purfling.shop.access import fetch, page
from purfling.shop.charts import chart_of, time_line
from purfling.shop.models import Object
from purfling.shop.queries.history import history_of_object


@page()
def history(request: HttpRequest, id: UUID) -> HttpResponse:
    """All visits on one time line, every reading as a series."""
    thing = fetch(Object.objects.select_related("owner"), id)
    found = history_of_object(thing, (get_language() or "en")[:2])
    found["charts"] = [(s, chart_of(s)) for s in found["series"] if not s.once]
    found["once"] = [s for s in found["series"] if s.once]
    found["line"] = time_line(found["visits"])
    return render(request, "shop/history.html", found)


urlpatterns = [path("object/<uuid:id>/history", history, name="history")]
