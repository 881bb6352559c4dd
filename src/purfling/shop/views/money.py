"""Terms, price list, issued papers, open items and the period list. The owner's."""

import csv
from datetime import date
from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import path
from django.utils.translation import get_language

from purfling.shop.access import fetch, page
from purfling.shop.domain import clock
from purfling.shop.domain.estimate import decimal_of
from purfling.shop.domain.issuing import issue_credit_note, issue_deposit, issue_invoice, pay, remind
from purfling.shop.domain.pricing import change_terms, set_price, the_terms
from purfling.shop.forms.money import PaymentForm, PeriodForm, PriceForm, TermsForm
from purfling.shop.models import Issued, Price, Visit
from purfling.shop.queries.money import CSV_HEAD, open_items, period_rows


def _language() -> str:
    return get_language() or "en"


def _this_year() -> dict[str, date]:
    today = clock.now().date()
    return {"first": date(today.year, 1, 1), "last": today}


@page("owner")
def money(request: HttpRequest) -> HttpResponse:
    """What is open, and the list for the accountant."""
    context = {"open": open_items(), "period": PeriodForm(initial=_this_year())}
    return render(request, "shop/money.html", context)


@page("owner", ("GET", "POST"))
def terms(request: HttpRequest) -> HttpResponse:
    """The shop's terms for money."""
    one = the_terms()
    form = TermsForm(request.POST or None, instance=one, user=request.user)
    if request.method == "POST" and form.is_valid():
        change_terms(terms=one, who=request.user, seen=form.version_seen, **form.values())
        return redirect("money_terms")
    return render(request, "shop/money_terms.html", {"form": form})


@page("owner", ("GET", "POST"))
def prices(request: HttpRequest) -> HttpResponse:
    """The price list on the wall."""
    form = PriceForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        set_price(who=request.user, **form.cleaned_data)
        return redirect("money_prices")
    return render(
        request, "shop/money_prices.html", {"form": form, "prices": Price.objects.filter(active=True)}
    )


@page("owner")
def period(request: HttpRequest) -> HttpResponse:
    """The papers of a period as CSV for the accountant."""
    form = PeriodForm(request.GET or _this_year())
    if not form.is_valid():
        return redirect("money")
    answer = HttpResponse(content_type="text/csv; charset=utf-8")
    answer["Content-Disposition"] = 'attachment; filename="papers.csv"'
    writer = csv.writer(answer)
    writer.writerow(CSV_HEAD)
    writer.writerows(period_rows(form.cleaned_data["first"], form.cleaned_data["last"]))
    return answer


@page("owner", ("POST",))
def invoice(request: HttpRequest, id: UUID) -> HttpResponse:
    """The invoice of everything agreed, with prices that may have come out lower."""
    visit = fetch(Visit, id)
    real = {
        k.removeprefix("real-"): v for k, v in request.POST.items() if k.startswith("real-") and v.strip()
    }
    issue_invoice(visit=visit, who=request.user, real=real, language=_language())
    return redirect("visit_money", visit.pk)


@page("owner", ("POST",))
def deposit(request: HttpRequest, id: UUID) -> HttpResponse:
    """A deposit before the work."""
    visit = fetch(Visit, id)
    issue_deposit(
        visit=visit,
        amount=decimal_of(request.POST.get("amount", ""), "amount"),
        words=request.POST.get("words", ""),
        who=request.user,
        language=_language(),
    )
    return redirect("visit_money", visit.pk)


@page("owner", ("POST",))
def credit(request: HttpRequest, id: UUID) -> HttpResponse:
    """Take a paper back."""
    note = issue_credit_note(issued=fetch(Issued, id), who=request.user, language=_language())
    return redirect("visit_money", note.visit_id)


@page("owner", ("POST",))
def payment(request: HttpRequest, id: UUID) -> HttpResponse:
    """Money came in."""
    paper = fetch(Issued, id)
    form = PaymentForm(request.POST)
    if form.is_valid():
        pay(issued=paper, who=request.user, **form.cleaned_data)
    return redirect("visit_money", paper.visit_id)


@page("owner", ("POST",))
def reminder(request: HttpRequest, id: UUID) -> HttpResponse:
    """A reminder went out."""
    paper = fetch(Issued, id)
    remind(issued=paper, who=request.user)
    return redirect("money")


@page("owner")
def issued_paper(request: HttpRequest, id: UUID) -> HttpResponse:
    """The paper as it was issued, to the byte."""
    paper = fetch(Issued, id)
    answer = HttpResponse(bytes(paper.pdf), content_type="application/pdf")
    answer["Content-Disposition"] = f'inline; filename="{paper.number}.pdf"'
    return answer


urlpatterns = [
    path("money", money, name="money"),
    path("money/terms", terms, name="money_terms"),
    path("money/prices", prices, name="money_prices"),
    path("money/papers.csv", period, name="money_period"),
    path("visit/<uuid:id>/invoice", invoice, name="invoice_new"),
    path("visit/<uuid:id>/deposit", deposit, name="deposit_new"),
    path("issued/<uuid:id>/credit", credit, name="issued_credit"),
    path("issued/<uuid:id>/pay", payment, name="issued_pay"),
    path("issued/<uuid:id>/remind", reminder, name="issued_remind"),
    path("issued/<uuid:id>/paper.pdf", issued_paper, name="issued_paper"),
]
