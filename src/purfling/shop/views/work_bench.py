"""At the bench: one operation's page, start, lay down, finish, look, stop points."""

from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import path, reverse
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _

from purfling.shop.access import fetch, page
from purfling.shop.domain.work_bench import (
    finish_work,
    lay_down,
    look_at_work,
    pass_stop,
    reopen_work,
    start_work,
)
from purfling.shop.domain.work_rules import name_of
from purfling.shop.forms.work import LookForm
from purfling.shop.queries.catalogue import shop_catalogue
from purfling.shop.queries.work_operation import operation_page
from purfling.shop.views.work import WORKS, list_address
from purfling.shop.views.work_answer import answered


def address(work_id: UUID) -> str:
    """The address of one operation's page."""
    return reverse("operation", args=[work_id])


@page()
def operation(request: HttpRequest, id: UUID) -> HttpResponse:
    """One operation at the bench: its step card, readings, cautions, and what to touch next."""
    return render(request, "shop/operation.html", operation_page(fetch(WORKS, id), request.user))


@page(methods=("POST",))
def start(request: HttpRequest, id: UUID) -> HttpResponse:
    """Start, or take up again."""
    work = fetch(WORKS, id)

    def verb() -> str:
        _begun, laid = start_work(work=work, who=request.user, word=request.POST.get("word", ""))
        if laid is None:
            return ""
        return _("Laid down for it: %(name)s.") % {"name": name_of(shop_catalogue(), laid.code)}

    return answered(request, verb, address(work.pk))


@page(methods=("POST",))
def down(request: HttpRequest, id: UUID) -> HttpResponse:
    """Lay down."""
    work = fetch(WORKS, id)
    return answered(request, lambda: lay_down(work=work, who=request.user), address(work.pk))


@page(methods=("POST",))
def finish(request: HttpRequest, id: UUID) -> HttpResponse:
    """The hands are done."""
    work = fetch(WORKS, id)
    recipe = request.POST.get("recipe", "")
    return answered(
        request,
        lambda: finish_work(work=work, who=request.user, recipe=recipe),
        list_address(work.visit_object_id),
    )


def _moment(value) -> str:
    return date_format(value, "D j M, H:i")


@page(methods=("POST",))
def look(request: HttpRequest, id: UUID) -> HttpResponse:
    """Dry, or again later; says whom that hits."""
    work = fetch(WORKS, id)
    form = LookForm(request.POST)
    form.is_valid()
    given = form.cleaned_data

    def verb() -> str:
        done, hits = look_at_work(
            work=work,
            who=request.user,
            dry=bool(given.get("dry")),
            hours=given.get("hours") or 3.0,
            word=given.get("word", ""),
        )
        if done.look_at is None:
            return _("Looked at and found done: %(name)s.") % {"name": name_of(shop_catalogue(), done.code)}
        lines = [_("Look again %(at)s.") % {"at": _moment(timezone.localtime(done.look_at))}]
        for hit in hits:
            told = {"number": hit.visit.number, "before": _moment(hit.before), "after": _moment(hit.after)}
            if hit.breaks:
                lines.append(
                    _("Visit %(number)s: ready %(after)s instead of %(before)s; the promise is not kept.")
                    % told
                )
            else:
                lines.append(_("Visit %(number)s: ready %(after)s instead of %(before)s.") % told)
        if not hits:
            lines.append(_("It moves no visit."))
        return " ".join(lines)

    return answered(request, verb, list_address(work.visit_object_id))


@page(methods=("POST",))
def stop(request: HttpRequest, id: UUID) -> HttpResponse:
    """A stop point was shown, and what was said."""
    work = fetch(WORKS, id)
    step = request.POST.get("step", "")
    number = int(step) if step.isdecimal() and len(step) < 3 else 0
    return answered(
        request,
        lambda: pass_stop(work=work, step=number, said=request.POST.get("said", ""), who=request.user),
        address(work.pk),
    )


@page(methods=("POST",))
def reopen(request: HttpRequest, id: UUID) -> HttpResponse:
    """Not finished after all."""
    work = fetch(WORKS, id)
    return answered(
        request, lambda: reopen_work(work=work, who=request.user), list_address(work.visit_object_id)
    )


urlpatterns = [
    path("operation/<uuid:id>", operation, name="operation"),
    path("operation/<uuid:id>/start", start, name="work_start"),
    path("operation/<uuid:id>/lay-down", down, name="work_down"),
    path("operation/<uuid:id>/finish", finish, name="work_finish"),
    path("operation/<uuid:id>/reopen", reopen, name="work_reopen"),
    path("operation/<uuid:id>/look", look, name="work_look"),
    path("operation/<uuid:id>/stop", stop, name="work_stop"),
]
