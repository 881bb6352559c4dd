"""Players."""

from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import path

from purfling.shop.access import fetch, page
from purfling.shop.domain.player import add_player, change_player, forget_player
from purfling.shop.forms.player import PlayerForm
from purfling.shop.models import Player
from purfling.shop.queries.player import player_page


@page()
def player(request: HttpRequest, id: UUID) -> HttpResponse:
    """One player: objects and visits."""
    return render(request, "shop/player.html", player_page(fetch(Player, id)))


@page(methods=("GET", "POST"))
def new(request: HttpRequest) -> HttpResponse:
    """Add a player."""
    form = PlayerForm(request.POST or None, user=request.user)
    if request.method == "POST" and form.is_valid():
        made = add_player(who=request.user, **form.values())
        return redirect("player", made.pk)
    return render(request, "shop/player_form.html", {"form": form})


@page(methods=("GET", "POST"))
def edit(request: HttpRequest, id: UUID) -> HttpResponse:
    """Change a player."""
    one = fetch(Player, id)
    form = PlayerForm(request.POST or None, instance=one, user=request.user)
    if request.method == "POST" and form.is_valid():
        change_player(player=one, who=request.user, seen=form.version_seen, **form.values())
        return redirect("player", one.pk)
    return render(request, "shop/player_form.html", {"form": form, "player": fetch(Player, id)})


@page("owner", ("GET", "POST"))
def forget(request: HttpRequest, id: UUID) -> HttpResponse:
    """Forget a person; the objects keep their history."""
    one = fetch(Player, id)
    if request.method == "POST":
        forget_player(player=one, who=request.user)
        return redirect("player", one.pk)
    return render(request, "shop/player_forget.html", {"player": one})


urlpatterns = [
    path("player/new", new, name="player_new"),
    path("player/<uuid:id>", player, name="player"),
    path("player/<uuid:id>/edit", edit, name="player_edit"),
    path("player/<uuid:id>/forget", forget, name="player_forget"),
]
