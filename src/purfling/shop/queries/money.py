"""What the pages of money read."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from purfling.shop.domain.estimate import LineState, as_line, line_states, sum_of, token_of
from purfling.shop.domain.issuing import agreed_lines, open_of
from purfling.shop.domain.pricing import the_terms
from purfling.shop.models import Estimate, Issued, Price, Visit


@dataclass(frozen=True)
class EstimateView:
    """An estimate as its page shows it: lines with their answers, sums, links with their addresses."""

    estimate: Estimate
    states: list[LineState]
    agreed_sum: Decimal
    links: list[tuple[Any, str]]


def _view(estimate: Estimate) -> EstimateView:
    states = line_states(estimate)
    agreed = [s.row for s in states if s.agreed]
    total = sum_of(agreed, the_terms()).due if agreed else Decimal(0)
    links = [(link, token_of(link)) for link in estimate.links.all()]
    return EstimateView(estimate, states, total, links)


def visit_money(visit: Visit) -> dict[str, Any]:
    """Estimates, agreed lines, issued papers and the price list for a visit's objects."""
    estimates = visit.estimates.prefetch_related("answers", "links")
    issued = list(visit.issued.prefetch_related("payments", "reminders"))
    kinds = {"bow" if row.object.is_bow else row.object.family for row in visit.rows.select_related("object")}
    prices = Price.objects.filter(active=True, kind__in=[*kinds, "any"])
    agreed = agreed_lines(visit)
    return {
        "visit": visit,
        "estimates": [_view(e) for e in estimates],
        "agreed": agreed,
        "agreed_sum": sum_of([a.row for a in agreed], the_terms()).due if agreed else None,
        "issued": [(i, open_of(i)) for i in issued],
        "prices": list(prices),
        "terms": the_terms(),
    }


def public_estimate(estimate: Estimate) -> dict[str, Any]:
    """What somebody behind a private link sees: the lines with their prices, and nothing else."""
    terms = the_terms()
    states = line_states(estimate)
    rows = [
        {
            "key": s.row["key"],
            "words": s.row["words"],
            "group": s.row.get("group", ""),
            "amount": sum_of([s.row], terms).due,
            "answer": s.answer,
        }
        for s in states
    ]
    return {"estimate": estimate, "rows": rows, "shop": terms.seller, "town": terms.town}


def estimate_told(estimate: Estimate) -> tuple[dict[str, Any], list[dict[str, str]]]:
    """What the estimate's paper shows."""
    terms = the_terms()
    lines = [
        {
            "words": row["words"],
            "group": str(row.get("group", "")),
            "amount": f"{sum_of([row], terms).due:.2f}",
        }
        for row in estimate.lines
    ]
    plain = [r for r in estimate.lines if not r.get("group")]
    totals = [["", f"{sum_of(plain, terms).due:.2f}"]] if plain and len(plain) == len(lines) else []
    told = {
        "shop": terms.seller,
        "number": f"{estimate.visit.number}.{estimate.number}",
        "subject": "",
        "risks": estimate.risks,
        "not_included": estimate.not_included,
        "not_above": f"{estimate.not_above:.2f}" if estimate.not_above is not None else "",
        "valid_until": estimate.valid_until.isoformat() if estimate.valid_until else "",
        "promise": estimate.promise_words,
        "totals": totals,
    }
    return told, lines


def open_items() -> list[tuple[Issued, Decimal, int]]:
    """Papers with something still owed: paper, open sum, days past due."""
    from purfling.shop.domain import clock

    today = clock.now().date()
    found = []
    rows = Issued.objects.exclude(kind=Issued.Kind.CREDIT_NOTE).select_related("visit__player")
    for paper in rows.prefetch_related("payments", "reminders").defer("pdf"):
        owed = open_of(paper)
        if owed > 0:
            late = (today - paper.due_on).days if paper.due_on else 0
            found.append((paper, owed, max(late, 0)))
    return found


CSV_HEAD = (
    "number",
    "kind",
    "issued_on",
    "buyer",
    "category",
    "rate_percent",
    "net",
    "tax",
    "gross",
    "due",
    "refers_to",
    "paid",
    "sha256",
)


def harmless(text: str) -> str:
    """A cell that no spreadsheet takes for a formula: a leading sign is quoted."""
    return "'" + text if text[:1] in ("=", "+", "-", "@", "\t", "\r") else text


def period_rows(first: date, last: date) -> list[Sequence[str]]:
    """One row per paper and rate between two days, for the accountant."""
    out: list[Sequence[str]] = []
    papers = Issued.objects.filter(issued_on__range=(first, last)).select_related("refers_to").defer("pdf")
    for paper in papers.prefetch_related("payments").order_by("year", "run"):
        paid = sum((p.amount for p in paper.payments.all()), Decimal(0))
        for rate in paper.told["rates"]:
            net, tax = Decimal(rate["net"]), Decimal(rate["tax"])
            out.append(
                (
                    paper.number,
                    paper.kind,
                    paper.issued_on.isoformat(),
                    harmless(paper.told["buyer"]),
                    rate["category"],
                    rate["percent"],
                    f"{net:.2f}",
                    f"{tax:.2f}",
                    f"{net + tax:.2f}",
                    f"{paper.due:.2f}",
                    paper.refers_to.number if paper.refers_to else "",
                    f"{paid:.2f}",
                    paper.sha256,
                )
            )
    return out


__all__ = ["as_line", "estimate_told", "open_items", "period_rows", "public_estimate", "visit_money"]
