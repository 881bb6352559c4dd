"""Estimates of a visit, the yes to them, and the private link that shows one of them to a stranger."""

from uuid import UUID

from django.core.cache import cache
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import path
from django.utils.translation import get_language
from django.views.decorators.cache import never_cache

from purfling.craft.refusals import Refusal
from purfling.shop.access import fetch, page
from purfling.shop.domain.estimate import (
    add_found_work,
    answer_estimate,
    give_estimate,
    link_of,
    make_estimate,
    make_link,
    withdraw_estimate,
    withdraw_link,
)
from purfling.shop.forms.money import FREE_ROWS, AnswerForm, EstimateForm, PaymentForm, lines_of
from purfling.shop.models import Estimate, PrivateLink, Visit
from purfling.shop.queries.money import estimate_told, public_estimate, visit_money

TRIES_A_MINUTE = 20


@page("owner")
def of_visit(request: HttpRequest, id: UUID) -> HttpResponse:
    """Everything about money of one visit."""
    visit = fetch(Visit.objects.select_related("player"), id)
    context = visit_money(visit) | {
        "form": EstimateForm(),
        "answer_form": AnswerForm(initial={"by": visit.player.first_name or visit.player.name}),
        "payment_form": PaymentForm(),
        "free_rows": range(FREE_ROWS),
    }
    return render(request, "shop/visit_money.html", context)


@page("owner", ("POST",))
def new(request: HttpRequest, id: UUID) -> HttpResponse:
    """A new estimate from touched prices and free rows."""
    visit = fetch(Visit, id)
    form = EstimateForm(request.POST)
    values = form.cleaned_data if form.is_valid() else {}
    lines = lines_of(request.POST, visit_money(visit)["prices"])
    make_estimate(visit=visit, lines=lines, who=request.user, **values)
    return redirect("visit_money", visit.pk)


@page("owner", ("POST",))
def give(request: HttpRequest, id: UUID) -> HttpResponse:
    """It was told to the player."""
    estimate = give_estimate(estimate=fetch(Estimate, id), who=request.user)
    return redirect("visit_money", estimate.visit_id)


@page("owner", ("POST",))
def withdraw(request: HttpRequest, id: UUID) -> HttpResponse:
    """It counts no longer."""
    estimate = withdraw_estimate(estimate=fetch(Estimate, id), who=request.user)
    return redirect("visit_money", estimate.visit_id)


@page("owner", ("POST",))
def answer(request: HttpRequest, id: UUID) -> HttpResponse:
    """A yes or a no that came by mouth, telephone or mail."""
    estimate = fetch(Estimate, id)
    form = AnswerForm(request.POST)
    if form.is_valid():
        answer_estimate(
            estimate=estimate,
            keys=request.POST.getlist("keys"),
            yes=request.POST.get("answer") == "yes",
            who=request.user,
            **form.cleaned_data,
        )
    return redirect("visit_money", estimate.visit_id)


@page("owner", ("POST",))
def found(request: HttpRequest, id: UUID) -> HttpResponse:
    """Work that showed itself on the bench: its own estimate, waiting for its own yes."""
    estimate = fetch(Estimate, id)
    line = {"words": request.POST.get("words-0", ""), "unit_price": request.POST.get("amount-0", "")}
    add_found_work(estimate=estimate, line=line, who=request.user)
    return redirect("visit_money", estimate.visit_id)


@page("owner", ("POST",))
def link(request: HttpRequest, id: UUID) -> HttpResponse:
    """A private link to this estimate."""
    estimate = fetch(Estimate, id)
    make_link(estimate=estimate, who=request.user)
    return redirect("visit_money", estimate.visit_id)


@page("owner", ("POST",))
def unlink(request: HttpRequest, id: UUID) -> HttpResponse:
    """The link opens nothing from now on."""
    one = withdraw_link(link=fetch(PrivateLink, id), who=request.user)
    return redirect("visit_money", one.estimate.visit_id)


@page("owner")
def paper(request: HttpRequest, id: UUID) -> HttpResponse:
    """The estimate as a paper."""
    from purfling.papers.estimate.build import estimate_pdf

    told, lines = estimate_told(fetch(Estimate.objects.select_related("visit"), id))
    pdf = estimate_pdf(told, lines, get_language() or "en")
    return HttpResponse(pdf, content_type="application/pdf")


def _too_often(request: HttpRequest) -> bool:
    """More than some tries a minute from one address."""
    key = f"yes-{request.META.get('REMOTE_ADDR', '')}"
    cache.add(key, 0, 60)
    try:
        return cache.incr(key) > TRIES_A_MINUTE
    except ValueError:
        return False


@never_cache
@page("anyone", ("GET", "POST"))
def by_link(request: HttpRequest, token: str) -> HttpResponse:
    """One estimate for whoever holds its link: no way in, nothing else visible."""
    if _too_often(request):
        raise Refusal("money.too_often")
    one = link_of(token)
    if one is None:
        raise Http404
    complaint = ""
    if request.method == "POST":
        try:
            answer_estimate(
                estimate=one.estimate,
                keys=request.POST.getlist("keys"),
                yes=request.POST.get("answer") == "yes",
                by=request.POST.get("by", ""),
                how="link",
                words=request.POST.get("words", ""),
            )
            return redirect("estimate_by_link", token)
        except Refusal as refusal:
            from purfling.words import refusal_text

            complaint = refusal_text(refusal, get_language() or "en")
    context = public_estimate(one.estimate) | {"complaint": complaint}
    answer_page = render(request, "shop/estimate_by_link.html", context, status=422 if complaint else 200)
    answer_page["X-Robots-Tag"] = "noindex"
    answer_page["Referrer-Policy"] = "same-origin"  # "no-referrer" sends Origin: null, which CSRF refuses
    return answer_page


urlpatterns = [
    path("visit/<uuid:id>/money", of_visit, name="visit_money"),
    path("visit/<uuid:id>/estimate", new, name="estimate_new"),
    path("estimate/<uuid:id>/give", give, name="estimate_give"),
    path("estimate/<uuid:id>/withdraw", withdraw, name="estimate_withdraw"),
    path("estimate/<uuid:id>/answer", answer, name="estimate_answer"),
    path("estimate/<uuid:id>/found", found, name="estimate_found"),
    path("estimate/<uuid:id>/link", link, name="estimate_link"),
    path("estimate/<uuid:id>/paper.pdf", paper, name="estimate_paper"),
    path("link/<uuid:id>/withdraw", unlink, name="link_withdraw"),
    path("yes/<str:token>", by_link, name="estimate_by_link"),
]
