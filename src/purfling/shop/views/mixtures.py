"""Mixtures: the owner's page, off the first page."""

from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import path
from django.utils.translation import gettext as _

from purfling.shop.access import fetch, page
from purfling.shop.forms.varnish import PartsForm
from purfling.shop.models import Object
from purfling.shop.queries.mixture import mixture_page


@page("owner")
def mixtures(request: HttpRequest, id: UUID) -> HttpResponse:
    """The Teas triangle with this instrument's tests, and a mixture asked about."""
    thing = fetch(Object.objects.select_related("owner"), id)
    form = PartsForm(request.GET or None)
    parts = form.parts() if form.is_bound and form.is_valid() else []
    context = mixture_page(thing, parts, _("this mixture")) | {"form": form}
    return render(request, "shop/mixtures.html", context)


urlpatterns = [path("object/<uuid:id>/mixtures", mixtures, name="mixtures")]
