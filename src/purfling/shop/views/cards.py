"""Cards: begin, the pad, figures as they are typed, side by side, strings off."""

import json
from uuid import UUID

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect, render
from django.urls import path
from django.utils.translation import get_language

from purfling.craft.refusals import Refusal
from purfling.shop.access import fetch, page
from purfling.shop.asked import Asked, kinds_of
from purfling.shop.domain.card import (
    CHOICES,
    OF_BOW,
    begin_card,
    fix_card,
    let_tension_off,
    missing_at_pitch,
    strike_reading,
    take_reading,
    type_figure,
    wish_as_last_time,
)
from purfling.shop.models import Card, VisitObject
from purfling.shop.queries.card import further_keys, pad_of, side_by_side
from purfling.shop.sketches import sketch_of
from purfling.words import note_text, refusal_text

ROW = VisitObject.objects.select_related("visit__player", "object")
CARD = Card.objects.select_related("visit_object__visit", "object")


def _language() -> str:
    return (get_language() or "en")[:2]


@page(methods=("POST",))
def begin(request: HttpRequest, id: UUID) -> HttpResponse:
    """Begin a card and go to its pad; one that has begun is taken up where it was."""
    row = fetch(ROW, id)
    moment = request.POST.get("moment", "found")
    there = row.cards.filter(moment=moment).first()
    if there is None:
        kind = request.POST.get("kind") or kinds_of(row.object)[0]
        there = begin_card(row=row, moment=moment, kind=kind, who=request.user)
    return redirect("card_pad", there.pk)


@page()
def pad(request: HttpRequest, id: UUID) -> HttpResponse:
    """One figure at a time fills the screen."""
    card = fetch(CARD, id)
    further = request.GET.get("further", "")
    data = pad_of(card, _language(), further)
    keys = list(dict.fromkeys(f["key"] for f in data["figures"]))
    context = {
        "card": card,
        "row": card.visit_object,
        "data": data,
        "sketches": [(k, sketch_of(k)) for k in keys],
        "at_key": request.GET.get("at", "") or (f"{further}-0" if further else ""),
    }
    return render(request, "shop/pad.html", context)


@page(methods=("POST",))
def reading(request: HttpRequest, id: UUID) -> HttpResponse:
    """Store one figure (JSON in, JSON out); a sentence where it is no figure."""
    card = fetch(CARD, id)
    try:
        given = json.loads(request.body)
        key, place, text = str(given["key"]), int(given["place"]), str(given["text"])
        made = UUID(given["id"]) if given.get("id") else None
    except (ValueError, KeyError, TypeError):
        return JsonResponse({"sentence": "?"}, status=400)
    try:
        if not text.strip():
            strike_reading(card=card, key=key, place=place, who=request.user)
            return JsonResponse({"notes": []})
        taken = take_reading(
            card=card,
            key=key,
            place=place,
            text=text,
            same=bool(given.get("same")),
            id=made,
            who=request.user,
        )
    except Refusal as refusal:
        return JsonResponse({"sentence": refusal_text(refusal, _language())}, status=422)
    notes = [note_text(n, _language()) for n in taken.notes]
    return JsonResponse({"notes": notes, "value": taken.reading.value})


@page(methods=("POST",))
def typing(request: HttpRequest, id: UUID) -> HttpResponse:
    """Keep what is being typed."""
    card = fetch(CARD, id)
    try:
        given = json.loads(request.body)
        type_figure(
            card=card, key=str(given["key"]), place=int(given["place"]), text=str(given.get("text", ""))
        )
    except (ValueError, KeyError, TypeError, Refusal):
        return HttpResponse(status=400)
    return HttpResponse(status=204)


@page(methods=("GET", "POST"))
def fix(request: HttpRequest, id: UUID) -> HttpResponse:
    """Datum, direction, tension and strings of a card."""
    card = fetch(CARD, id)
    if request.method == "POST":
        datums = {n: request.POST[n] for n in CHOICES if n in request.POST}
        fix_card(
            card=card,
            who=request.user,
            datums=datums,
            tension=request.POST.get("tension", card.tension),
            strings_name=request.POST.get("strings_name", card.strings_name)[:80],
        )
        return redirect("card_pad", card.pk)
    names = [(n, CHOICES[n], card.datums.get(n)) for n in CHOICES if (n in OF_BOW) == card.object.is_bow]
    return render(request, "shop/card_fix.html", {"card": card, "names": names})


@page()
def cards(request: HttpRequest, id: UUID) -> HttpResponse:
    """As found, wished, as left side by side."""
    row = fetch(ROW.prefetch_related("cards__readings"), id)
    further = [
        (
            card,
            [(k, Asked(k).words(row.object.family, _language()).split(" · ")[0]) for k in further_keys(card)],
        )
        for card in row.cards.all()
    ]
    context = {"row": row, "lines": side_by_side(row, _language()), "further": further}
    return render(request, "shop/cards.html", context)


@page(methods=("POST",))
def as_last_time(request: HttpRequest, id: UUID) -> HttpResponse:
    """Copy the wish of the visit before."""
    row = fetch(ROW, id)
    wish_as_last_time(row=row, who=request.user)
    return redirect("cards", row.pk)


@page(methods=("GET", "POST"))
def strings_off(request: HttpRequest, id: UUID) -> HttpResponse:
    """Strings off, or what is still missing before."""
    row = fetch(ROW, id)
    missing = missing_at_pitch(row)
    if request.method == "POST":
        let_tension_off(row=row, who=request.user, word=request.POST.get("word", ""))
        return redirect("visit", row.visit_id)
    words = [(a, a.words(row.object.family, _language())) for a in missing]
    card = row.cards.filter(moment="found").first()
    return render(request, "shop/strings_off.html", {"row": row, "missing": words, "card": card})


urlpatterns = [
    path("visit-object/<uuid:id>/cards", cards, name="cards"),
    path("visit-object/<uuid:id>/begin", begin, name="card_begin"),
    path("visit-object/<uuid:id>/as-last-time", as_last_time, name="as_last_time"),
    path("visit-object/<uuid:id>/strings-off", strings_off, name="strings_off"),
    path("card/<uuid:id>", pad, name="card_pad"),
    path("card/<uuid:id>/fix", fix, name="card_fix"),
    path("card/<uuid:id>/reading", reading, name="card_reading"),
    path("card/<uuid:id>/typing", typing, name="card_typing"),
]
