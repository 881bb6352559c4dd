"""Issuing papers: gapless numbers, kept as issued with their hash; credit notes, deposits, payments."""

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from typing import Any

from django.db import transaction
from django.db.models import Sum

from purfling.craft.refusals import Refusal
from purfling.papers.invoice.build import invoice_pdf
from purfling.reckonings.money.einvoice import Paper, Party
from purfling.reckonings.money.sums import Line, Total, credited, total
from purfling.shop.domain import clock, keeping
from purfling.shop.domain.estimate import as_line, decimal_of, line_states, sum_of
from purfling.shop.domain.pricing import the_terms
from purfling.shop.models import Issued, Maker, NumberRun, Payment, Reminder, Terms, Visit

KIND = Issued.Kind


@dataclass(frozen=True)
class Agreed:
    """A line that may go on an invoice, and the yes behind it."""

    row: dict[str, Any]
    estimate_number: int
    by: str


def agreed_lines(visit: Visit) -> list[Agreed]:
    """Every line of the visit's estimates with a yes standing last, in the order of the estimates."""
    found: list[Agreed] = []
    for estimate in visit.estimates.filter(given_at__isnull=False, withdrawn_at__isnull=True):
        for state in line_states(estimate):
            if state.agreed and state.answer is not None:
                row = {**state.row, "key": f"{estimate.number}.{state.row['key']}"}
                found.append(Agreed(row, estimate.number, state.answer.by))
    return found


def _invoiced_keys(visit: Visit) -> set[str]:
    """Lines of the visit that stand on an invoice which no credit note took back."""
    keys: set[str] = set()
    for paper in visit.issued.filter(kind=KIND.INVOICE).exclude(followed_by__kind=KIND.CREDIT_NOTE):
        keys.update(line["key"] for line in paper.told["lines"])
    return keys


def _take_number(day: date) -> tuple[int, int, str]:
    """The next number of the year; the row is locked until the paper stands or nothing does."""
    NumberRun.objects.get_or_create(year=day.year)
    run = NumberRun.objects.select_for_update().get(year=day.year)
    run.last += 1
    run.save(update_fields=["last"])
    return day.year, run.last, f"{day.year}-{run.last:04d}"


def _seller(terms: Terms) -> Party:
    for field, value in (("seller", terms.seller), ("town", terms.town)):
        if not value:
            raise Refusal("money.terms_missing", field=field)
    if not terms.vat_number and not terms.tax_number:
        raise Refusal("money.terms_missing", field="tax_number")
    return Party(
        terms.seller,
        terms.line_one,
        terms.town,
        terms.postcode,
        terms.country,
        terms.vat_number,
        terms.tax_number,
    )


def _buyer(visit: Visit, terms: Terms) -> Party:
    player = visit.player
    name = " ".join(p for p in (player.first_name, player.name) if p) or "-"
    address = (player.address or "").splitlines()
    return Party(name, address[0] if address else "", player.town, "", terms.country)


@transaction.atomic
def issue_invoice(
    *,
    visit: Visit,
    who: Maker,
    keys: Sequence[str] | None = None,
    real: dict[str, str] | None = None,
    delivered_on: date | None = None,
    language: str = "en",
) -> Issued:
    """The invoice of a visit's agreed lines (all of them, or ``keys``).

    ``real`` maps a line to the price really asked; it may be lower than agreed, never higher: a higher one
    needs its own yes.

    Raises
    ------
    Refusal
        Nothing agreed, a line without its yes, a price above what was agreed, terms that are missing.
    """
    Visit.objects.select_for_update().get(pk=visit.pk)
    terms = the_terms()
    lines = {a.row["key"]: a.row for a in agreed_lines(visit)}
    wanted = list(keys) if keys is not None else [k for k in lines if k not in _invoiced_keys(visit)]
    for key in wanted:
        if key not in lines:
            raise Refusal("money.no_yes", key=str(key)[:20])
        if key in _invoiced_keys(visit):
            raise Refusal("money.invoiced_twice", key=key)
    if not wanted:
        raise Refusal("money.nothing_agreed")
    rows = [_really(lines[k], real or {}) for k in wanted]
    quoted = sum_of([lines[k] for k in wanted], terms).due
    _check_not_above(visit, rows, terms)
    asked = visit.issued.filter(kind=KIND.DEPOSIT, settled_by__isnull=True)
    deposits = list(asked.exclude(followed_by__kind=KIND.CREDIT_NOTE))
    made = [as_line(r, terms) for r in rows] + [_less(line) for d in deposits for line in _lines_told(d)]
    paper = _issue(
        visit=visit,
        kind=KIND.INVOICE,
        lines=made,
        terms=terms,
        who=who,
        quoted=quoted,
        delivered_on=delivered_on,
        language=language,
    )
    for deposit in deposits:
        keeping.change(deposit, who=who, settled_by=paper)
    return paper


def _really(row: dict[str, Any], real: dict[str, str]) -> dict[str, Any]:
    if row["key"] not in real:
        return row
    price = decimal_of(real[row["key"]], "unit_price")
    if price > Decimal(row["unit_price"]):
        raise Refusal("money.above_agreed", text=row["words"][:60], value=str(price), limit=row["unit_price"])
    return {**row, "unit_price": str(price)}


def _check_not_above(visit: Visit, rows: Sequence[dict[str, Any]], terms: Terms) -> None:
    """The words "not above" of an estimate hold for its own lines together."""
    for estimate in visit.estimates.filter(not_above__isnull=False, withdrawn_at__isnull=True):
        own = [r for r in rows if r["key"].startswith(f"{estimate.number}.")]
        if own and sum_of(own, terms).due > estimate.not_above:
            raise Refusal(
                "money.above_limit", value=str(sum_of(own, terms).due), limit=str(estimate.not_above)
            )


def _less(line: Line) -> Line:
    return credited([line])[0]


def _lines_told(paper: Issued) -> list[Line]:
    """The lines of an issued paper as sums take them: at the rates they were issued with."""
    from purfling.reckonings.money.rates import Tax

    found = []
    for row in paper.told["lines"]:
        tax = Tax(row["tax"], row["category"], Decimal(row["percent"]), row["reason"])
        words = f"{paper.number}: {row['words']}" if paper.kind == KIND.DEPOSIT else row["words"]
        found.append(
            Line(words, Decimal(row["quantity"]), Decimal(row["unit_price"]), tax, row["unit"], row["key"])
        )
    return found


def issue_deposit(*, visit: Visit, amount: Decimal, words: str, who: Maker, language: str = "en") -> Issued:
    """A deposit asked for before the work; the invoice takes it off again."""
    terms = the_terms()
    row = {
        "key": "deposit",
        "words": words,
        "quantity": "1",
        "unit_price": str(amount),
        "tax": terms.usual_tax,
    }
    line = as_line(row, terms)
    return _issue(visit=visit, kind=KIND.DEPOSIT, lines=[line], terms=terms, who=who, language=language)


@transaction.atomic
def issue_credit_note(*, issued: Issued, who: Maker, language: str = "en") -> Issued:
    """Takes back a whole issued paper: the two cancel to nothing.

    Raises
    ------
    Refusal
        It is a credit note itself, or taken back already.
    """
    issued = Issued.objects.select_for_update().get(pk=issued.pk)
    if issued.kind == KIND.CREDIT_NOTE:
        raise Refusal("money.credit_of_credit")
    if issued.followed_by.filter(kind=KIND.CREDIT_NOTE).exists():
        raise Refusal("money.credited_twice", number=issued.number)
    lines = credited(_lines_told(issued))
    terms = the_terms()
    gross = issued.told["gross_prices"]
    return _issue(
        visit=issued.visit,
        kind=KIND.CREDIT_NOTE,
        lines=lines,
        terms=terms,
        who=who,
        refers_to=issued,
        gross=gross,
        language=language,
    )


@transaction.atomic
def _issue(
    *,
    visit: Visit,
    kind: str,
    lines: Sequence[Line],
    terms: Terms,
    who: Maker,
    quoted: Decimal | None = None,
    refers_to: Issued | None = None,
    delivered_on: date | None = None,
    gross: bool | None = None,
    language: str = "en",
) -> Issued:
    """One transaction: number, paper, row; whatever fails leaves none of them."""
    seller = _seller(terms)
    day = clock.now().date()
    gross_prices = terms.prices_are_gross if gross is None else gross
    sums = total(lines, terms.rule, terms.half, gross_prices)
    year, run, number = _take_number(day)
    due_on = None if kind == KIND.CREDIT_NOTE else day + timedelta(days=terms.due_days)
    paper = Paper(
        kind=kind,
        number=number,
        issued_on=day,
        delivered_on=delivered_on or day,
        due_on=due_on,
        currency=_currency(),
        seller=seller,
        buyer=_buyer(visit, terms),
        lines=tuple(lines),
        total=sums,
        iban=terms.iban if kind != KIND.CREDIT_NOTE else "",
        bic=terms.bic,
        terms=terms.words,
        refers_to=refers_to.number if refers_to else "",
        refers_on=refers_to.issued_on if refers_to else None,
    )
    small = terms.small_limit is not None and sums.gross <= terms.small_limit and kind == KIND.INVOICE
    pdf = invoice_pdf(paper, subject=_subject(visit), small=small, language=language)
    row = Issued(
        kind=kind,
        year=year,
        run=run,
        number=number,
        visit=visit,
        refers_to=refers_to,
        issued_on=day,
        due_on=due_on,
        told=_told(paper, sums, gross_prices),
        net=sums.net,
        tax=sums.tax,
        due=sums.due,
        quoted=quoted,
        pdf=pdf,
        sha256=hashlib.sha256(pdf).hexdigest(),
    )
    return keeping.add(row, who=who)


def _currency() -> str:
    from purfling.shop.domain.shop import the_shop

    return the_shop().currency


def _subject(visit: Visit) -> str:
    return str(visit.number)


def _told(paper: Paper, sums: Total, gross_prices: bool) -> dict[str, Any]:
    """All that the paper shows, as plain values."""
    return {
        "buyer": paper.buyer.name,
        "gross_prices": gross_prices,
        "rounding": str(sums.rounding),
        "lines": [
            {
                "key": line.key,
                "words": line.text,
                "quantity": str(line.quantity),
                "unit_price": str(line.unit_price),
                "unit": line.unit,
                "net": str(net),
                "tax": line.tax.name,
                "category": line.tax.category,
                "percent": str(line.tax.percent),
                "reason": line.tax.reason,
            }
            for line, net in zip(paper.lines, sums.lines_net, strict=True)
        ],
        "rates": [
            {
                "category": r.tax.category,
                "percent": str(r.tax.percent),
                "net": str(r.net),
                "tax": str(r.amount),
            }
            for r in sums.rates
        ],
    }


def pay(*, issued: Issued, amount: Decimal, who: Maker, on: date | None = None, how: str = "") -> Payment:
    """Money came in (or went back for a credit note, negative)."""
    if not amount.is_finite() or amount == 0:
        raise Refusal("money.bad_number", field="amount", value=str(amount)[:20])
    return keeping.add(
        Payment(issued=issued, amount=amount, on=on or clock.now().date(), how=how[:40]), who=who
    )


def remind(*, issued: Issued, who: Maker, words: str = "") -> Reminder:
    """A reminder for a paper that is still open."""
    if open_of(issued) <= 0:
        raise Refusal("money.nothing_open", number=issued.number)
    return keeping.add(Reminder(issued=issued, on=clock.now().date(), words=words[:2000]), who=who)


def open_of(issued: Issued) -> Decimal:
    """What is still owed on a paper: due, less payments, less the credit notes that take it back."""
    paid = issued.payments.aggregate(sum=Sum("amount"))["sum"] or Decimal(0)
    back = sum((c.due for c in issued.followed_by.filter(kind=KIND.CREDIT_NOTE)), Decimal(0))
    return issued.due + back - paid
