"""The pages that go out with the hand-over, ready to print."""

from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.urls import path
from django.utils import timezone
from django.utils.formats import date_format

from purfling.shop.access import fetch, page
from purfling.shop.domain.reckoning import slip_of
from purfling.shop.models import Visit, VisitObject
from purfling.shop.queries.catalogue import language
from purfling.shop.queries.handover import handover_page
from purfling.shop.queries.shop import shop_name
from purfling.shop.words import WENT, object_words
from purfling.words import say

ROW = VisitObject.objects.select_related("visit__player", "object").prefetch_related("cards__readings")


def pdf_answer(pdf: bytes, name: str) -> HttpResponse:
    """A PDF that opens in the browser; its name tells no person."""
    answer = HttpResponse(pdf, content_type="application/pdf")
    answer["Content-Disposition"] = f'inline; filename="{name}.pdf"'
    return answer


def _object(one: dict) -> dict:
    row = one["row"]
    return {
        "title": object_words(row.object),
        "tag": row.tag,
        "done": [k.name for k in one["knots"] if k.work.state == "done"],
        "lines": [
            {n: str(getattr(line, n) or "") for n in ("words", "unit", "found", "wished", "left", "change")}
            for line in one["lines"]
        ],
        "parts": [f"{p.words}: {WENT[p.went]}" + (f", {p.word}" if p.word else "") for p in one["named"]],
    }


def note_data(visit: Visit) -> tuple[dict, list[dict]]:
    """The plain records of the hand-over note."""
    about = handover_page(visit)
    given = about["given"]
    contents = given.contents if given else [{"thing": t, "there": None, "word": ""} for t in visit.contents]
    note = {
        "shop": shop_name(),
        "number": say("work.note_visit", language(), number=visit.number),
        "when": date_format(timezone.localtime(given.at), "j M Y, H:i") if given else "",
        "first_name": visit.player.first_name,
        "contents": contents,
        "player_words": given.player_words if given else "",
        "question": given.question if given else visit.question,
        "answer": given.answer if given else "",
        "second_look": date_format(given.second_look_at, "j M Y") if given and given.second_look_at else "",
        "collector": given.collector if given else "",
        "who": str(given.who) if given else "",
    }
    return note, [_object(one) for one in about["rows"]]


@page()
def note(request: HttpRequest, id: UUID) -> HttpResponse:
    """The hand-over note."""
    from purfling.papers.hand_over.build import hand_over_note

    visit = fetch(Visit.objects.select_related("player"), id)
    given, objects = note_data(visit)
    return pdf_answer(hand_over_note(given, objects, language()), f"hand-over-{visit.number}")


@page()
def card_paper(request: HttpRequest, id: UUID) -> HttpResponse:
    """The set-up card of an object, from its cards of this visit."""
    from purfling.papers.setup_card.build import setup_card
    from purfling.reckonings.service.compute import reckon_service

    row = fetch(ROW, id)
    slip = slip_of(row).slip()
    pdf = setup_card(reckon_service(slip, False, language()), language())
    return pdf_answer(pdf, f"set-up-card-{row.visit.number}-{row.tag or 'x'}")


urlpatterns = [
    path("visit/<uuid:id>/hand-over-note.pdf", note, name="hand_over_note"),
    path("visit-object/<uuid:id>/set-up-card.pdf", card_paper, name="set_up_card"),
]
