"""Instruments and bows."""

from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import path

from purfling.shop.access import fetch, page
from purfling.shop.domain.object import add_object, change_object, give_object
from purfling.shop.forms.object import ObjectForm
from purfling.shop.models import Object, Player
from purfling.shop.queries.find import find
from purfling.shop.queries.object import object_page


@page()
def thing(request: HttpRequest, id: UUID) -> HttpResponse:
    """One object: identity, owners, visits."""
    return render(request, "shop/object.html", object_page(fetch(Object.objects.select_related("owner"), id)))


@page(methods=("GET", "POST"))
def new(request: HttpRequest) -> HttpResponse:
    """Add an instrument or a bow, of a player where one is named."""
    given = request.GET.get("player", "")
    owner = fetch(Player, UUID(given)) if _is_uuid(given) else None
    form = ObjectForm(request.POST or None, user=request.user)
    if request.method == "POST" and form.is_valid():
        made = add_object(who=request.user, owner=owner, **form.values())
        return redirect("object", made.pk)
    return render(request, "shop/object_form.html", {"form": form, "player": owner})


def _is_uuid(text: str) -> bool:
    try:
        UUID(text)
    except ValueError:
        return False
    return True


@page(methods=("GET", "POST"))
def edit(request: HttpRequest, id: UUID) -> HttpResponse:
    """Change what is known of an object."""
    one = fetch(Object.objects.select_related("owner"), id)
    form = ObjectForm(request.POST or None, instance=one, user=request.user)
    if request.method == "POST" and form.is_valid():
        change_object(thing=one, who=request.user, seen=form.version_seen, **form.values())
        return redirect("object", one.pk)
    return render(request, "shop/object_form.html", {"form": form, "object": one})


@page(methods=("GET", "POST"))
def give(request: HttpRequest, id: UUID) -> HttpResponse:
    """Another owner; found by any word."""
    one = fetch(Object.objects.select_related("owner"), id)
    if request.method == "POST":
        to = fetch(Player, UUID(request.POST["to"])) if _is_uuid(request.POST.get("to", "")) else None
        if to is not None:
            give_object(thing=one, to=to, who=request.user)
        return redirect("object", one.pk)
    found = find(request.GET.get("q", "")[:100])
    return render(request, "shop/object_give.html", {"object": one, "found": found})


urlpatterns = [
    path("object/new", new, name="object_new"),
    path("object/<uuid:id>", thing, name="object"),
    path("object/<uuid:id>/edit", edit, name="object_edit"),
    path("object/<uuid:id>/give", give, name="object_give"),
]
