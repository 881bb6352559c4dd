"""Weight, balance, new lapping and hair of a bow from its card: redrawn with each number, kept."""

from dataclasses import dataclass, replace
from typing import Any
from uuid import UUID

from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import path

from purfling.craft.bow.wire import materials
from purfling.craft.refusals import Refusal
from purfling.shop.access import fetch, page
from purfling.shop.domain.bow import need_bow
from purfling.shop.domain.bow_numbers import BOXES, CHOICES, BowNumbers, as_slip, earlier_lengths, laid_over
from purfling.shop.domain.reckoning import keep_reckoning, slip_of
from purfling.shop.models import BowPart, VisitObject
from purfling.shop.queries.bow_reckoning import KEPT, answer_lines, box_lines, kept_of, starting_tables
from purfling.shop.queries.catalogue import language
from purfling.slips.reader import check_slip
from purfling.words import note_text, refusal_text, say

ROW = VisitObject.objects.select_related("visit__player", "object").prefetch_related("cards__readings")

LARGER = 1.3  # figures of the page are read from farther than those of a paper


@dataclass(frozen=True)
class Reckoned:
    """What the numbers gave: tables as reckoned, the answers by name, what the page shows."""

    numbers: BowNumbers
    answers: dict[str, Any]
    shown: dict[str, Any]


def reckoned(tables: dict[str, Any], frog: str) -> Reckoned:
    """Reckon bow and, where a new one is given, lapping.

    Raises
    ------
    Refusal
        What the engine refuses: no datum, no hair state, a gauge number for a wire.
    """
    from purfling.drawing.svg import to_svg
    from purfling.reckonings.bow.compute import compute
    from purfling.reckonings.bow.pictures import side
    from purfling.reckonings.bow.sentences import change_sentence
    from purfling.reckonings.lapping.compute import compute as wind
    from purfling.shop.setup_sheet import BY_NAME, _larger

    lang = language()
    numbers = as_slip(tables, frog)
    slip = check_slip(numbers.tables, "bow")
    case = compute(slip)
    answers: dict[str, Any] = {"bow": case.answer}
    groups = answer_lines("bow", case.answer.results, lang)
    if numbers.has_lapping:
        answers["lapping"] = wind(slip).answer
        groups += answer_lines("lapping", answers["lapping"].results, lang)
    drawing = side(case, lang)
    notes = [*numbers.left_out, *(n for a in answers.values() for n in a.warnings)]
    cautions = list(dict.fromkeys(c for a in answers.values() for c in a.results["cautions"]))
    shown = {
        "picture": to_svg(replace(drawing, items=tuple(_larger(i, LARGER) for i in drawing.items)), BY_NAME),
        "groups": groups,
        "change": change_sentence(case, lang),
        "notes": list(dict.fromkeys(note_text(n, lang) for n in notes)),
        "cautions": [say(c, lang) for c in cautions],
        "defaults": [d for a in answers.values() for d in a.defaults],
        "status": case.answer.status,
    }
    return Reckoned(numbers, answers, shown)


def _frog(row: VisitObject) -> str:
    found = BowPart.objects.filter(visit_object=row, part="frog").first()
    return found.material if found else ""


def _page(row: VisitObject) -> dict[str, Any]:
    start = starting_tables(slip_of(row).tables, kept_of(row), earlier_lengths(row.object_id))
    lang = language()
    try:
        context = reckoned(start.tables, _frog(row)).shown
    except Refusal as refusal:
        context = {"sentence": refusal_text(refusal, lang)}
    return context | {
        "row": row,
        "visit": row.visit,
        "groups_of_boxes": [(g, box_lines(BOXES[g], start.tables, lang)) for g in BOXES],
        "selects": {
            "datum": start.tables.get("bow", {}).get("datum", ""),
            "hair": start.tables.get("bow", {}).get("hair", ""),
            "tied": start.tables.get("hair", {}).get("tied", ""),
            "material": start.tables.get("lapping", {}).get("material", ""),
            "octagonal": start.tables.get("lapping", {}).get("octagonal", False),
        },
        "datums": CHOICES["bow.datum"],
        "hairs": CHOICES["bow.hair"],
        "materials": [(m, say(f"lapping.material_{m}", lang)) for m in materials()],
        "origin": start.origin,
        "kept": list(row.reckonings.filter(name__in=KEPT).select_related("who")[:10]),
    }


def _typed(request: HttpRequest, row: VisitObject) -> dict[str, Any]:
    return laid_over(slip_of(row).tables, request.POST.dict())


@page()
def reckoning(request: HttpRequest, id: UUID) -> HttpResponse:
    """The bow to scale with its balance, and the numbers to touch."""
    row = need_bow(fetch(ROW, id))
    return render(request, "shop/bow_reckoning.html", _page(row))


@page(methods=("POST",))
def draw(request: HttpRequest, id: UUID) -> HttpResponse:
    """Redraw with the numbers in the boxes; nothing is kept."""
    row = need_bow(fetch(ROW, id))
    try:
        context = reckoned(_typed(request, row), _frog(row)).shown
    except Refusal as refusal:
        context = {"sentence": refusal_text(refusal, language())}
    return render(request, "shop/bow_drawn.html", context | {"row": row})


@page(methods=("POST",))
def keep(request: HttpRequest, id: UUID) -> HttpResponse:
    """Keep the reckoning of the bow, and of the new lapping, with the visit."""
    row = need_bow(fetch(ROW, id), write=True)
    try:
        done = reckoned(_typed(request, row), _frog(row))
    except Refusal as refusal:
        context = _page(row) | {"sentence": refusal_text(refusal, language())}
        return render(request, "shop/bow_reckoning.html", context, status=422)
    word = request.POST.get("word", "")
    with transaction.atomic():
        for name, answer in done.answers.items():
            keep_reckoning(
                row=row, name=name, tables=done.numbers.tables, answer=answer, who=request.user, word=word
            )
    return redirect("bow_reckoning", row.pk)


urlpatterns = [
    path("bow/<uuid:id>/reckoning", reckoning, name="bow_reckoning"),
    path("bow/<uuid:id>/reckoning/draw", draw, name="bow_reckoning_draw"),
    path("bow/<uuid:id>/reckoning/keep", keep, name="bow_reckoning_keep"),
]
