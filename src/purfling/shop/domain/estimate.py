"""Estimates: made from lines, given, answered; work found later needs its own yes."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from decimal import Decimal, InvalidOperation
from typing import Any

from django.core import signing
from django.db import transaction
from django.db.models import Max

from purfling.craft.refusals import Refusal
from purfling.reckonings.money.rates import tax_on
from purfling.reckonings.money.sums import Line, Total, check_line, total
from purfling.shop.domain import clock, keeping
from purfling.shop.domain.pricing import the_terms
from purfling.shop.models import Answered, Estimate, Maker, PrivateLink, Terms, Visit

SALT = "purfling.estimate-link"
LINE_KEYS = ("key", "words", "quantity", "unit_price", "tax", "reason", "group", "minutes", "found", "work")
HOW = Answered.How


def decimal_of(text: Any, field: str) -> Decimal:
    """A number as people write it: "12.50" and "12,50" are the same, "1.250,00" is refused."""
    plain = str(text).strip().replace("\u00a0", "").replace(" ", "")
    if "," in plain and "." in plain:
        raise Refusal("money.bad_number", field=field, value=str(text)[:20])
    try:
        found = Decimal(plain.replace(",", "."))
    except InvalidOperation as wrong:
        raise Refusal("money.bad_number", field=field, value=str(text)[:20]) from wrong
    if not found.is_finite():
        raise Refusal("money.bad_number", field=field, value=str(text)[:20])
    return found


def plain_line(row: dict[str, Any], number: int, terms: Terms) -> dict[str, Any]:
    """A line as it is kept: known keys only, numbers as text, a key of its own."""
    line = {k: row[k] for k in LINE_KEYS if row.get(k) not in (None, "")}
    line["key"] = str(row.get("key") or number)
    line["words"] = str(row.get("words", "")).strip()[:200]
    line["quantity"] = str(decimal_of(row.get("quantity", "1"), "quantity"))
    line["unit_price"] = str(decimal_of(row.get("unit_price", ""), "unit_price"))
    line["tax"] = str(row.get("tax") or terms.usual_tax)
    line["found"] = bool(row.get("found"))
    return line


def as_line(row: dict[str, Any], terms: Terms) -> Line:
    """A kept line as the sums take it, with the tax of today."""
    reason = str(row.get("reason") or terms.tax_reason)
    tax = tax_on(terms.country, row["tax"], clock.now().date(), reason, terms.own_rates)
    unit = "HUR" if row.get("minutes") and row.get("unit") == "hour" else "C62"
    return Line(
        row["words"], Decimal(row["quantity"]), Decimal(row["unit_price"]), tax, unit, str(row["key"])
    )


def sum_of(rows: Sequence[dict[str, Any]], terms: Terms) -> Total:
    """The sums of kept lines by the shop's terms."""
    lines = [as_line(r, terms) for r in rows]
    return total(lines, terms.rule, terms.half, terms.prices_are_gross)


@transaction.atomic
def make_estimate(*, visit: Visit, lines: Sequence[dict[str, Any]], who: Maker, **values: object) -> Estimate:
    """A new estimate of a visit; the one before it stays as it is.

    Raises
    ------
    Refusal
        No lines, a line without words or a price, a key twice, a visit that is closed.
    """
    if not visit.is_open:
        raise Refusal("book.visit_closed", number=visit.number)
    if not lines:
        raise Refusal("money.no_lines")
    terms = the_terms()
    rows = [plain_line(row, i, terms) for i, row in enumerate(lines, 1)]
    if len({r["key"] for r in rows}) != len(rows):
        raise Refusal("money.key_twice")
    for row in rows:
        check_line(as_line(row, terms))
    Visit.objects.select_for_update().get(pk=visit.pk)
    last = Estimate.objects.filter(visit=visit).aggregate(last=Max("number"))["last"] or 0
    values.setdefault("valid_until", (clock.now() + timedelta(days=terms.valid_days)).date())
    return keeping.add(Estimate(visit=visit, number=last + 1, lines=rows, **values), who=who)


def give_estimate(*, estimate: Estimate, who: Maker) -> Estimate:
    """From now on it is what the player was told: it does not change any more."""
    if estimate.given_at is not None:
        return estimate
    return keeping.change(estimate, who=who, given_at=clock.now())


def withdraw_estimate(*, estimate: Estimate, who: Maker) -> Estimate:
    """It counts no longer; its links show nothing."""
    return keeping.change(estimate, who=who, withdrawn_at=clock.now())


@dataclass(frozen=True)
class LineState:
    """A line of an estimate with what was said of it last."""

    row: dict[str, Any]
    answer: Answered | None

    @property
    def agreed(self) -> bool:
        """A yes stands last."""
        return self.answer is not None and self.answer.yes


def line_states(estimate: Estimate) -> list[LineState]:
    """Each line with the last answer to it."""
    last: dict[str, Answered] = {}
    for answer in estimate.answers.all():
        for key in answer.keys:
            last[key] = answer
    return [LineState(row, last.get(row["key"])) for row in estimate.lines]


@transaction.atomic
def answer_estimate(
    *,
    estimate: Estimate,
    keys: Sequence[str],
    yes: bool,
    by: str,
    how: str,
    words: str = "",
    who: Maker | None = None,
    at: datetime | None = None,
    id=None,
) -> Answered:
    """A yes or a no to some lines.

    Raises
    ------
    Refusal
        Not given yet, withdrawn, past its day, unknown lines, nobody's name, two options of one group.
    """
    estimate = Estimate.objects.select_for_update().get(pk=estimate.pk)
    if estimate.given_at is None:
        raise Refusal("money.not_given")
    if estimate.withdrawn_at is not None:
        raise Refusal("money.withdrawn")
    if how == HOW.LINK and estimate.valid_until and clock.now().date() > estimate.valid_until:
        raise Refusal("money.past_its_day", day=estimate.valid_until.isoformat())
    if not by.strip():
        raise Refusal("money.nobody")
    rows = {r["key"]: r for r in estimate.lines}
    if not keys or any(k not in rows for k in keys):
        raise Refusal("money.unknown_line", keys=", ".join(str(k)[:10] for k in keys)[:60] or "-")
    if yes:
        _check_options(estimate, keys, rows)
    answer = Answered(
        estimate=estimate,
        keys=list(keys),
        yes=yes,
        by=by.strip()[:120],
        how=how,
        at=at or clock.now(),
        words=words.strip()[:2000],
    )
    if id is not None:
        answer.id = id
    return keeping.add(answer, who=who)


def _check_options(estimate: Estimate, keys: Sequence[str], rows: dict[str, dict[str, Any]]) -> None:
    agreed = {s.row["key"] for s in line_states(estimate) if s.agreed} | set(keys)
    groups: dict[str, list[str]] = {}
    for key in agreed:
        if rows[key].get("group"):
            groups.setdefault(str(rows[key]["group"]), []).append(key)
    for group, chosen in groups.items():
        if len(chosen) > 1:
            raise Refusal("money.two_options", group=group[:40])


@transaction.atomic
def add_found_work(*, estimate: Estimate, line: dict[str, Any], who: Maker) -> Estimate:
    """Work that showed itself on the bench: a new estimate with that line alone, waiting for its own yes."""
    found = {**line, "found": True}
    made = make_estimate(visit=estimate.visit, lines=[found], who=who)
    return give_estimate(estimate=made, who=who)


def make_link(*, estimate: Estimate, who: Maker, days: int = 14) -> PrivateLink:
    """A private link to one given estimate."""
    if estimate.given_at is None:
        raise Refusal("money.not_given")
    return keeping.add(PrivateLink(estimate=estimate, until=clock.now() + timedelta(days=days)), who=who)


def withdraw_link(*, link: PrivateLink, who: Maker) -> PrivateLink:
    """The link opens nothing from now on."""
    return keeping.change(link, who=who, withdrawn_at=clock.now())


def token_of(link: PrivateLink) -> str:
    """What stands in the link's address: the link's id, signed."""
    return signing.Signer(salt=SALT).sign(link.pk.hex)


def link_of(token: str) -> PrivateLink | None:
    """The link of an address where it is genuine, in time and not withdrawn; else None."""
    try:
        pk = signing.Signer(salt=SALT).unsign(token)
    except signing.BadSignature:
        return None
    link = PrivateLink.objects.select_related("estimate__visit").filter(pk=pk).first()
    if link is None or link.withdrawn_at or link.until < clock.now() or link.estimate.withdrawn_at:
        return None
    return link
