"""The room: its log, its curve, its bands; the season beside an instrument."""

from uuid import UUID

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import path
from django.utils.translation import gettext as _

from purfling.craft.refusals import Refusal
from purfling.shop.access import fetch, is_owner, page
from purfling.shop.domain.room import read_room, set_bands, take_file, the_bands
from purfling.shop.forms.room import BandsForm, RoomFileForm, RoomForm
from purfling.shop.models import Object
from purfling.shop.queries.room import room_page, season_of
from purfling.shop.room_chart import room_chart, season_chart

MOST_BYTES = 2_000_000


def words() -> dict[str, str]:
    """Names of the tracks."""
    return {
        "room": _("The room"),
        "season": _("The season"),
        "humidity": _("Humidity, %"),
        "temperature": _("Temperature, °C"),
        "moisture": _("Equilibrium moisture of wood, %"),
        "low": _("Clearance of the lowest string at the board's end, mm"),
        "high": _("Clearance of the highest string at the board's end, mm"),
        "projection": _("Projection, mm"),
    }


@page(methods=("GET", "POST"))
def room(request: HttpRequest) -> HttpResponse:
    """The room's page; a typed reading."""
    form = RoomForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        read_room(who=request.user, **form.cleaned_data)
        return redirect("room")
    context = room_page()
    context |= {
        "form": form,
        "file_form": RoomFileForm(),
        "chart": room_chart(context["days"], context["bands"], words()),
    }
    if is_owner(request.user):
        context["bands_form"] = BandsForm(instance=the_bands(), user=request.user)
    return render(request, "shop/room.html", context)


@page(methods=("POST",))
def file(request: HttpRequest) -> HttpResponse:
    """A logger's file."""
    form = RoomFileForm(request.POST, request.FILES)
    if form.is_valid():
        upload = form.cleaned_data["file"]
        if upload.size > MOST_BYTES:
            raise Refusal("varnish.room_large", most=MOST_BYTES // 1_000_000)
        try:
            text = upload.read().decode("utf-8-sig")
        except UnicodeDecodeError as wrong:
            raise Refusal("varnish.room_utf8") from wrong
        new, there = take_file(text=text, who=request.user, room=form.cleaned_data["room"])
        messages.success(
            request, _("%(new)s new readings, %(there)s were there already.") % {"new": new, "there": there}
        )
    return redirect("room")


@page("owner", ("POST",))
def bands(request: HttpRequest) -> HttpResponse:
    """The shop's warning bands."""
    form = BandsForm(request.POST, instance=the_bands(), user=request.user)
    if form.is_valid():
        set_bands(bands=the_bands(), who=request.user, seen=form.version_seen, **form.values())
    return redirect("room")


@page()
def season(request: HttpRequest, id: UUID) -> HttpResponse:
    """The season's curve beside action and projection."""
    found = season_of(fetch(Object.objects.select_related("owner"), id))
    found["chart"] = season_chart(found["days"], found["tracks"], words())
    return render(request, "shop/season.html", found)


urlpatterns = [
    path("room", room, name="room"),
    path("room/file", file, name="room_file"),
    path("room/bands", bands, name="room_bands"),
    path("object/<uuid:id>/season", season, name="season"),
]
