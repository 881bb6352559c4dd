"""Every reckoning on this visit's numbers: open, change a number, keep it with the visit."""

import base64
from uuid import UUID

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import path

from purfling.craft.refusals import Refusal
from purfling.shop.access import fetch, page
from purfling.shop.domain.reckoning import keep_reckoning, slip_of
from purfling.shop.forms.opened import boxes_of, typed
from purfling.shop.models import VisitObject
from purfling.shop.opened import OPENED, Opened, Shown, opened_for
from purfling.shop.queries.catalogue import language
from purfling.slips.reader import check_slip
from purfling.words import note_text, refusal_text

ROW = VisitObject.objects.select_related("visit__player", "object").prefetch_related(
    "cards__readings", "tries"
)


def tables_of(row: VisitObject) -> dict:
    """The slip's tables from the cards of this visit, with the tries of the post."""
    tables = slip_of(row).tables
    names = ("behind_mm", "inside_mm", "tightness")
    tries = []
    for one in row.tries.all():
        line = {n: getattr(one, n) for n in names if getattr(one, n) is not None}
        words = {"maker": one.maker_word, "player": one.player_word, "verdict": one.verdict}
        line |= {n: w for n, w in words.items() if w}
        if line:
            tries.append(line)
    if tries:
        tables["try"] = tries
    return tables


def _before(row: VisitObject, one: Opened):
    """The slip of the object's visit before, where the reckoning compares with it."""
    if not one.before:
        return None
    earlier = VisitObject.objects.filter(
        object=row.object_id, visit__number__lt=row.visit.number, cards__moment__in=("found", "left")
    )
    last = (
        earlier.select_related("object", "visit")
        .prefetch_related("cards__readings")
        .order_by("-visit__number")
        .first()
    )
    return slip_of(last).slip() if last is not None else None


def _chosen(row: VisitObject, name: str) -> Opened:
    there = {o.name: o for o in opened_for(row.object.kind)}
    if not there:
        raise Http404
    if name and name not in there:
        raise Refusal("work.no_reckoning", name=name[:40])
    return there[name] if name else next(iter(there.values()))


def _context(shown: Shown) -> dict:
    return {
        "text": shown.text,
        "status": shown.answer.status,
        "notes": [note_text(n, language()) for n in shown.answer.warnings],
        "pictures": [(n, base64.b64encode(data).decode()) for n, data in shown.pictures],
    }


@page(methods=("GET", "POST"))
def opened(request: HttpRequest, id: UUID) -> HttpResponse:
    """One reckoning on this visit's numbers; POST reckons anew or keeps."""
    row = fetch(ROW, id)
    one = _chosen(row, request.POST.get("name") or request.GET.get("name", ""))
    if one.page:
        return redirect(one.page, row.pk)
    tables = tables_of(row)
    context = {"row": row, "opened": one, "all": opened_for(row.object.kind)}
    asked_text = {n: request.POST.get(f"ask.{n}", "") for n in one.asks}
    try:
        made, asked = typed(one, tables, request.POST if request.method == "POST" else {})
        waits = one.slow and request.method == "GET"
        slip = check_slip(made, "visit")
        shown = None if waits else one.reckon(slip, asked, language(), _before(row, one))
    except Refusal as refusal:
        context["sentence"] = refusal_text(refusal, language())
        made, shown = tables, None
    if shown is not None and request.POST.get("do") == "keep":
        kept = keep_reckoning(
            row=row,
            name=one.name,
            tables=made | ({"asked_besides": asked} if asked else {}),
            answer=shown.answer,
            who=request.user,
            word=request.POST.get("word", ""),
            shown=shown.text,
        )
        return redirect("reckoning", kept.pk)
    context |= _context(shown) if shown else {}
    context["untouched"] = shown is None and "sentence" not in context
    context |= {
        "boxes": boxes_of(one, made, asked_text),
        "more": request.POST.get("more", ""),
        "kept": list(row.reckonings.filter(name=one.name).select_related("who")[:10]),
        "label": OPENED[one.name].label,
    }
    status = 422 if request.method == "POST" and shown is None else 200
    return render(request, "shop/opened.html", context, status=status)


urlpatterns = [path("visit-object/<uuid:id>/reckon", opened, name="opened")]
