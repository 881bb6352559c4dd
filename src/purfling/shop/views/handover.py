"""The hand-over of a visit."""

from datetime import date
from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import path, reverse

from purfling.shop.access import fetch, page
from purfling.shop.domain.handover import Given, hand_over
from purfling.shop.models import Visit
from purfling.shop.queries.handover import handover_page
from purfling.shop.views.work_answer import answered


def _day(text: str) -> date | None:
    try:
        return date.fromisoformat(text)
    except ValueError:
        return None


def given_of(request: HttpRequest, visit: Visit) -> Given:
    """What was ticked and written."""
    post = request.POST
    rows = [str(pk) for pk in visit.rows.values_list("pk", flat=True)]
    return Given(
        contents=tuple((f"there-{n}" in post, post.get(f"word-{n}", "")) for n in range(len(visit.contents))),
        tags={pk: post.get(f"tag-{pk}", "") for pk in rows},
        no_card={pk: post.get(f"no-card-{pk}", "") for pk in rows},
        collector=post.get("collector", ""),
        player_words=post.get("player_words", ""),
        asked="asked" in post,
        answer=post.get("answer", ""),
        second_look_at=_day(post.get("second_look_at", "")),
        no_second_look=post.get("no_second_look", ""),
    )


@page(methods=("GET", "POST"))
def handover(request: HttpRequest, id: UUID) -> HttpResponse:
    """The hand-over; POST gives everything out, or says what holds it back and keeps what was typed."""
    visit = fetch(Visit.objects.select_related("player"), id)
    if request.method == "POST":
        given = given_of(request, visit)
        back = reverse("hand_over", args=[visit.pk])
        return answered(request, lambda: hand_over(visit=visit, given=given, who=request.user), back)
    return render(request, "shop/handover.html", handover_page(visit))


urlpatterns = [path("visit/<uuid:id>/hand-over", handover, name="hand_over")]
