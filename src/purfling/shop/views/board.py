"""The board of an instrument in a visit: touched where it is measured, planned, compared after planing."""

import json
from typing import Any
from uuid import UUID

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect, render
from django.urls import path
from django.utils.translation import get_language

from purfling.craft.refusals import Refusal
from purfling.reckonings.dressing.compute import DressingCase
from purfling.shop.access import fetch, page
from purfling.shop.board_sheet import board_picture
from purfling.shop.domain.board import ASKED, FIGURES, LINES, check_board_of, set_board, take_gap
from purfling.shop.domain.reckoning import keep_reckoning
from purfling.shop.models import Board, BoardReading, VisitObject
from purfling.shop.queries.board import (
    BoardSlip,
    board_of,
    board_slip,
    figures_of_board,
    left_lines,
    places_of,
    reckoned_board,
)
from purfling.words import note_text, refusal_text, say

ROW = VisitObject.objects.select_related("visit__player", "object").prefetch_related("cards__readings")


def _language() -> str:
    return (get_language() or "en")[:2]


def _caution() -> str:
    return say("dressing.caution", _language())


def _moment(request: HttpRequest) -> str:
    asked = request.GET.get("moment") or request.POST.get("moment") or "found"
    return asked if asked in BoardReading.Moment.values else "found"


def _reckon(slip: BoardSlip) -> tuple[DressingCase | None, dict[str, Any], str]:
    """The case and its tables, or the sentence why there is none; empty where too little was read yet."""
    if not slip.enough:
        return None, slip.tables, ""
    try:
        case, tables = reckoned_board(slip)
    except Refusal as refusal:
        return None, slip.tables, refusal_text(refusal, _language())
    return case, tables, ""


def _map(case: DressingCase) -> str:
    from purfling.shop.board_sheet import removal_picture

    return removal_picture(case, _language())


def planned(slip: BoardSlip) -> dict[str, Any]:
    """What the plan says, for the page."""
    from purfling.reckonings.dressing.order import planing_order
    from purfling.reckonings.dressing.sentences import blocked_rows, follows

    language = _language()
    case, _, sentence = _reckon(slip)
    context: dict[str, Any] = {"sentence": sentence, "case": case, "slip": slip, "caution": _caution()}
    if case is None:
        return context
    answer = case.answer
    context |= {
        "answer": answer,
        "notes": [note_text(n, language) for n in answer.warnings],
        "referred": case.plan is None,
        "drawn": case.drawn,
    }
    if case.plan is not None and not case.drawn:
        context["blocked"] = blocked_rows(case, language)
    if case.drawn:
        r = answer.results
        rows = zip(r["strings"], r["scoop_mm"], r["bridge_change_mm"], r["margin_ratio_after"], strict=True)
        context |= {
            "follows": follows(case, language),
            "order": planing_order(case, language),
            "map": _map(case),
            "strings": list(rows),
            "marks": [
                {"line": row["string"], "station": s, "high": round(h, 4)}
                for row in r["after"] or []
                for s, h in zip(row["station_mm"], row["still_high_mm"], strict=True)
            ],
        }
    return context


@page()
def board(request: HttpRequest, id: UUID) -> HttpResponse:
    """The board to scale, its places to touch, the plan under it."""
    row = fetch(ROW, id)
    check_board_of(row)
    slip, moment = board_slip(row, board_of(row)), _moment(request)
    places = places_of(slip, moment, _language())
    picture, plan = board_picture(slip, places, _language())
    data = {
        "places": places,
        "moment": moment,
        "decimal": "," if _language() == "de" else ".",
        "left": plan.at(0.0, 0.0)[0],
        "px": plan.px,
        "groove": say("board.place_pit", _language(), line="{line}", station="{station}"),
        "names": {n: say(f"board.line_{n}", _language()) for n in LINES},
        "length": plan.length_mm,
        "lines": {n: [plan.on_line(n, x)[1] for x in (0.0, plan.length_mm)] for n in plan.lines},
    }
    context = {
        "row": row,
        "moment": moment,
        "picture": picture,
        "data": data,
        "slip": slip,
        "figures": figures_of_board(slip, _language()),
        "asked": [(key, slip.board.asked.get(key) if slip.board else None) for key in ASKED],
        "kept": list(row.reckonings.filter(name="dressing").select_related("who")[:10]),
    }
    return render(request, "shop/board.html", context)


@page()
def plan(request: HttpRequest, id: UUID) -> HttpResponse:
    """The plan on what was read so far; nothing is kept."""
    row = fetch(ROW, id)
    check_board_of(row)
    slip = board_slip(row, board_of(row))
    return render(request, "shop/board_plan.html", planned(slip) | {"row": row, "moment": _moment(request)})


@page(methods=("POST",))
def reading(request: HttpRequest, id: UUID) -> HttpResponse:
    """Store what was read at one place (JSON in, JSON out); a sentence where it is no figure."""
    row = fetch(ROW, id)
    try:
        given = json.loads(request.body)
        kind, line, station = str(given["kind"]), str(given["line"]), float(given["station"])
        text, moment = str(given["text"]), str(given["moment"])
    except (ValueError, KeyError, TypeError):
        return JsonResponse({"sentence": "?"}, status=400)
    try:
        taken = take_gap(
            row=row, kind=kind, line=line, station_mm=station, text=text, moment=moment, who=request.user
        )
    except Refusal as refusal:
        return JsonResponse({"sentence": refusal_text(refusal, _language())}, status=422)
    return JsonResponse({"value": taken.value_mm if taken else None})


@page(methods=("POST",))
def figures(request: HttpRequest, id: UUID) -> HttpResponse:
    """Edges, lengths, wishes and what was asked; answers with the plan on them."""
    row = fetch(ROW, id)
    typed = {key: request.POST[key] for key in FIGURES if key in request.POST}
    asked = {key: request.POST[key] for key in ASKED if key in request.POST}
    before = board_slip(row, board_of(row))
    try:
        set_board(row=row, who=request.user, figures=typed, asked=asked)
    except Refusal as refusal:
        context = {"sentence": refusal_text(refusal, _language()), "row": row, "caution": _caution()}
        return render(request, "shop/board_plan.html", context)
    slip = board_slip(row, board_of(row))
    answer = render(request, "shop/board_plan.html", planned(slip) | {"row": row, "moment": _moment(request)})
    if before.length_mm != slip.length_mm:
        answer["HX-Refresh"] = "true"  # another length is another picture
    return answer


@page(methods=("POST",))
def keep(request: HttpRequest, id: UUID) -> HttpResponse:
    """Keep the plan with the visit."""
    from purfling.reckonings.dressing.sentences import plain

    row = fetch(ROW, id)
    check_board_of(row)
    slip = board_slip(row, board_of(row))
    case, tables, sentence = _reckon(slip)
    if case is None:
        raise Refusal("board.no_plan") if not sentence else Refusal("board.no_plan_because", why=sentence)
    keep_reckoning(
        row=row,
        name="dressing",
        tables=tables,
        answer=case.answer,
        who=request.user,
        word=request.POST.get("word", ""),
        shown=plain(case, _language()),
    )
    return redirect("board", row.pk)


@page()
def card(request: HttpRequest, id: UUID) -> HttpResponse:
    """The board's card: found, planned, left, and what is still high."""
    one = fetch(Board, id)
    row = fetch(ROW, one.visit_object_id)
    slip = board_slip(row, board_of(row))
    case, _, sentence = _reckon(slip)
    context = {"row": row, "lines": left_lines(slip, case), "sentence": sentence, "caution": _caution()}
    return render(request, "shop/board_card.html", context)


urlpatterns = [
    path("visit-object/<uuid:id>/board", board, name="board"),
    path("visit-object/<uuid:id>/board/plan", plan, name="board_plan"),
    path("visit-object/<uuid:id>/board/reading", reading, name="board_reading"),
    path("visit-object/<uuid:id>/board/figures", figures, name="board_figures"),
    path("visit-object/<uuid:id>/board/keep", keep, name="board_keep"),
    path("board/<uuid:id>", card, name="board_card"),
]
