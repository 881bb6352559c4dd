"""Visits: arrival, the visit's page, whereabouts, things lent."""

from uuid import UUID

from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import path

from purfling.shop.access import fetch, page
from purfling.shop.domain.visit import (
    book_visit,
    change_visit,
    close_visit,
    lend,
    move_object,
    receive_visit,
    take_back,
)
from purfling.shop.forms.visit import ArrivalForm, LoanForm, VisitForm, WhereaboutsForm
from purfling.shop.models import Loan, Player, Visit, VisitObject
from purfling.shop.queries.find import find
from purfling.shop.queries.visit import visit_page


@page()
def visit(request: HttpRequest, id: UUID) -> HttpResponse:
    """One visit."""
    one = fetch(Visit.objects.select_related("player"), id)
    context = visit_page(one) | {"loan_form": LoanForm(), "places": VisitObject.Whereabouts.values}
    return render(request, "shop/visit.html", context)


@page()
def arrival(request: HttpRequest) -> HttpResponse:
    """Who comes: find the player or add one."""
    found = find(request.GET.get("q", "")[:100])
    template = "shop/arrival_found.html" if request.htmx else "shop/arrival.html"
    return render(request, template, {"found": found, "q": request.GET.get("q", "")[:100]})


@page(methods=("GET", "POST"))
def arrival_of(request: HttpRequest, id: UUID) -> HttpResponse:
    """The arrival of a player's things, or a booking."""
    player = fetch(Player, id)
    form = ArrivalForm(request.POST or None, user=request.user, player=player)
    if request.method == "POST" and form.is_valid():
        with transaction.atomic():
            made = book_visit(
                player=player, objects=form.cleaned_data["objects"], who=request.user, **form.values()
            )
            if form.cleaned_data["here"]:
                receive_visit(visit=made, who=request.user, place=form.cleaned_data["place"])
        return redirect("visit", made.pk)
    return render(request, "shop/arrival_of.html", {"form": form, "player": player})


@page(methods=("POST",))
def receive(request: HttpRequest, id: UUID) -> HttpResponse:
    """What was booked is here now."""
    one = fetch(Visit, id)
    receive_visit(visit=one, who=request.user)
    return redirect("visit", one.pk)


@page(methods=("GET", "POST"))
def edit(request: HttpRequest, id: UUID) -> HttpResponse:
    """Change complaint, promise and the like."""
    one = fetch(Visit.objects.select_related("player"), id)
    form = VisitForm(request.POST or None, instance=one, user=request.user)
    if request.method == "POST" and form.is_valid():
        change_visit(visit=one, who=request.user, seen=form.version_seen, **form.values())
        return redirect("visit", one.pk)
    return render(request, "shop/visit_form.html", {"form": form, "visit": one})


@page(methods=("POST",))
def move(request: HttpRequest, id: UUID) -> HttpResponse:
    """Where an object is from now on."""
    row = fetch(VisitObject.objects.select_related("visit"), id)
    form = WhereaboutsForm(request.POST)
    if form.is_valid():
        move_object(row=row, who=request.user, **form.cleaned_data)
    return redirect("visit", row.visit_id)


@page(methods=("POST",))
def lend_out(request: HttpRequest, id: UUID) -> HttpResponse:
    """Lend something to the player."""
    one = fetch(Visit.objects.select_related("player"), id)
    form = LoanForm(request.POST)
    if form.is_valid():
        lend(visit=one, who=request.user, **form.cleaned_data)
    return redirect("visit", one.pk)


@page(methods=("POST",))
def lent_back(request: HttpRequest, id: UUID) -> HttpResponse:
    """What was lent is back."""
    loan = fetch(Loan, id)
    take_back(loan=loan, who=request.user)
    return redirect("visit", loan.visit_id)


@page(methods=("POST",))
def close(request: HttpRequest, id: UUID) -> HttpResponse:
    """Everything has gone home."""
    one = fetch(Visit, id)
    close_visit(visit=one, who=request.user)
    return redirect("visit", one.pk)


urlpatterns = [
    path("arrival", arrival, name="arrival"),
    path("arrival/<uuid:id>", arrival_of, name="arrival_of"),
    path("visit/<uuid:id>", visit, name="visit"),
    path("visit/<uuid:id>/edit", edit, name="visit_edit"),
    path("visit/<uuid:id>/receive", receive, name="visit_receive"),
    path("visit/<uuid:id>/close", close, name="visit_close"),
    path("visit/<uuid:id>/lend", lend_out, name="visit_lend"),
    path("visit-object/<uuid:id>/move", move, name="visit_object_move"),
    path("loan/<uuid:id>/back", lent_back, name="loan_back"),
]
