"""The work list of an object: usual service, add, order, strike, a yes."""

from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import path, reverse
from django.utils.translation import gettext as _

from purfling.shop.access import fetch, page
from purfling.shop.domain.work import (
    add_as_last_time,
    add_usual,
    add_work,
    answer_work,
    change_work,
    move_work,
    strike_work,
)
from purfling.shop.forms.work import AddForm, SeenForm, WorkForm
from purfling.shop.models import VisitObject, Work
from purfling.shop.queries.catalogue import shop_catalogue
from purfling.shop.queries.work import threads
from purfling.shop.queries.work_list import list_page
from purfling.shop.views.work_answer import answered

ROWS = VisitObject.objects.select_related("visit__player", "object")
WORKS = Work.objects.select_related("visit_object__visit__player", "visit_object__object", "hands")


def list_address(row_id: UUID) -> str:
    """The address of an object's work list."""
    return reverse("work_list", args=[row_id])


@page()
def work_list(request: HttpRequest, id: UUID) -> HttpResponse:
    """The work list of one object of a visit."""
    return render(request, "shop/work_list.html", list_page(fetch(ROWS, id)))


def _left_out(names: list[str]) -> str:
    return _("Left out for its class: %(names)s.") % {"names": ", ".join(names)} if names else ""


@page(methods=("POST",))
def usual(request: HttpRequest, id: UUID) -> HttpResponse:
    """The usual service in one touch."""
    row = fetch(ROWS, id)
    return answered(request, lambda: _left_out(add_usual(row=row, who=request.user)[1]), list_address(row.pk))


@page(methods=("POST",))
def last_time(request: HttpRequest, id: UUID) -> HttpResponse:
    """As last time."""
    row = fetch(ROWS, id)
    return answered(
        request, lambda: _left_out(add_as_last_time(row=row, who=request.user)[1]), list_address(row.pk)
    )


@page(methods=("POST",))
def add(request: HttpRequest, id: UUID) -> HttpResponse:
    """One operation onto the list, or found while working."""
    row = fetch(ROWS, id)
    form = AddForm(request.POST)
    if not form.is_valid():
        return render(request, "shop/work_list.html", list_page(row) | {"wrong": form.errors}, status=422)
    return answered(
        request, lambda: add_work(row=row, who=request.user, **form.cleaned_data), list_address(row.pk)
    )


@page(methods=("POST",))
def move(request: HttpRequest, id: UUID) -> HttpResponse:
    """Earlier or later on the list."""
    work = fetch(WORKS, id)
    form = SeenForm(request.POST)
    form.is_valid()
    return answered(
        request,
        lambda: move_work(
            work=work,
            earlier=request.POST.get("to") == "earlier",
            who=request.user,
            word=form.cleaned_data["word"],
        ),
        list_address(work.visit_object_id),
    )


@page(methods=("POST",))
def strike(request: HttpRequest, id: UUID) -> HttpResponse:
    """Off the list."""
    work = fetch(WORKS, id)
    form = SeenForm(request.POST)
    form.is_valid()
    word = form.cleaned_data["word"]
    return answered(
        request,
        lambda: strike_work(work=work, who=request.user, word=word),
        list_address(work.visit_object_id),
    )


@page(methods=("POST",))
def answer(request: HttpRequest, id: UUID) -> HttpResponse:
    """The player's yes or no."""
    work = fetch(WORKS, id)
    said, yes = request.POST.get("said", ""), request.POST.get("yes") == "1"
    return answered(
        request,
        lambda: answer_work(work=work, yes=yes, said=said, who=request.user),
        list_address(work.visit_object_id),
    )


@page(methods=("GET", "POST"))
def edit(request: HttpRequest, id: UUID) -> HttpResponse:
    """Planned minutes, wait, recipe, note."""
    work = fetch(WORKS, id)
    form = WorkForm(request.POST or None, instance=work, user=request.user)
    if request.method == "POST" and form.is_valid():
        return answered(
            request,
            lambda: change_work(work=work, who=request.user, seen=form.version_seen, **form.values()),
            list_address(work.visit_object_id),
        )
    knot = next(
        (
            k
            for k in threads([work.visit_object], shop_catalogue())[work.visit_object_id]
            if k.work.pk == work.pk
        ),
        None,
    )
    return render(request, "shop/work_form.html", {"form": form, "knot": knot, "work": work})


urlpatterns = [
    path("work-list/<uuid:id>", work_list, name="work_list"),
    path("work-list/<uuid:id>/usual", usual, name="work_usual"),
    path("work-list/<uuid:id>/last-time", last_time, name="work_last_time"),
    path("work-list/<uuid:id>/add", add, name="work_add"),
    path("operation/<uuid:id>/move", move, name="work_move"),
    path("operation/<uuid:id>/strike", strike, name="work_strike"),
    path("operation/<uuid:id>/answer", answer, name="work_answer"),
    path("operation/<uuid:id>/edit", edit, name="work_edit"),
]
