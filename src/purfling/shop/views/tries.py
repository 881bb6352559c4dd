"""Post and sound tries."""

from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import path, reverse

from purfling.shop.access import fetch, page
from purfling.shop.domain.tries import add_try, change_try, go_back
from purfling.shop.forms.tries import TryForm, VerdictForm
from purfling.shop.models import Try
from purfling.shop.queries.tries import tries_page
from purfling.shop.views.work import ROWS
from purfling.shop.views.work_answer import answered

TRIES = Try.objects.select_related("visit_object__visit", "visit_object__object")


@page(methods=("GET", "POST"))
def tries(request: HttpRequest, id: UUID) -> HttpResponse:
    """The tries of an object; POST writes one more."""
    row = fetch(ROWS, id)
    form = TryForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        back = reverse("tries", args=[row.pk])
        return answered(request, lambda: add_try(row=row, who=request.user, **form.cleaned_data), back)
    return render(request, "shop/tries.html", tries_page(row) | {"form": form})


@page(methods=("POST",))
def verdict(request: HttpRequest, id: UUID) -> HttpResponse:
    """The player's word and the verdict."""
    one = fetch(TRIES, id)
    form = VerdictForm(request.POST)
    form.is_valid()
    given = {k: v for k, v in form.cleaned_data.items() if k != "seen"}
    return answered(
        request,
        lambda: change_try(one=one, who=request.user, seen=form.cleaned_data.get("seen"), **given),
        reverse("tries", args=[one.visit_object_id]),
    )


@page(methods=("POST",))
def back(request: HttpRequest, id: UUID) -> HttpResponse:
    """Back to this try."""
    one = fetch(TRIES, id)
    return answered(
        request, lambda: go_back(to=one, who=request.user), reverse("tries", args=[one.visit_object_id])
    )


urlpatterns = [
    path("tries/<uuid:id>", tries, name="tries"),
    path("try/<uuid:id>/verdict", verdict, name="try_verdict"),
    path("try/<uuid:id>/back", back, name="try_back"),
]
