"""The shop's terms for money and its price list."""

from decimal import Decimal

from django.db import transaction

from purfling.craft.refusals import Refusal
from purfling.reckonings.money.rates import CATEGORIES, NEEDS_REASON, countries
from purfling.shop.domain import keeping
from purfling.shop.models import Maker, Price, Shop, Terms

KINDS = ("any", "violin", "viola", "cello", "bow")


@transaction.atomic
def the_terms() -> Terms:
    """The one row of terms, made where it is missing."""
    found = Terms.objects.first()
    if found is None:
        shop = Shop.objects.first()
        found = keeping.add(Terms(seller=shop.name if shop else "", town=shop.town if shop else ""), who=None)
    return found


def change_terms(*, terms: Terms, who: Maker, seen: int | None = None, **values: object) -> Terms:
    """Change the shop's terms.

    Raises
    ------
    Refusal
        A country the table does not know, a usual tax without its reason, own rates that are no numbers.
    """
    country = str(values.get("country", terms.country)).upper()
    if country not in countries():
        raise Refusal("money.unknown_country", country=country[:4])
    usual = str(values.get("usual_tax", terms.usual_tax))
    if usual not in CATEGORIES:
        raise Refusal("money.unknown_tax", name=usual[:40])
    if usual in NEEDS_REASON and not str(values.get("tax_reason", terms.tax_reason)).strip():
        raise Refusal("money.reason_missing", name=usual)
    for key, text in dict(values.get("own_rates", terms.own_rates) or {}).items():
        try:
            percent = Decimal(str(text))
        except ArithmeticError as wrong:
            raise Refusal("money.bad_rate", name=str(key)[:20], value=str(text)[:20]) from wrong
        if not percent.is_finite() or not 0 <= percent <= 50:
            raise Refusal("money.bad_rate", name=str(key)[:20], value=str(text)[:20])
    return keeping.change(terms, who=who, seen=seen, **{**values, "country": country})


def set_price(
    *, code: str, words: str, amount: Decimal, who: Maker, kind: str = "any", **values: object
) -> Price:
    """A price on the wall: added, or changed where code and kind stand already."""
    code, words = code.strip(), words.strip()
    if not code or not words:
        raise Refusal("money.no_words")
    if kind not in KINDS:
        raise Refusal("money.unknown_kind", kind=kind[:20])
    if not amount.is_finite() or amount < 0:
        raise Refusal("money.bad_price", text=words[:40], value=str(amount)[:20])
    found = Price.objects.filter(code=code, kind=kind).first()
    if found is None:
        return keeping.add(Price(code=code, words=words, amount=amount, kind=kind, **values), who=who)
    return keeping.change(found, who=who, words=words, amount=amount, **values)


def price_for(code: str, kind: str) -> Price | None:
    """The price of a code for a kind of object, the one for any kind where there is none of its own."""
    rows = {p.kind: p for p in Price.objects.filter(code=code, active=True, kind__in=[kind, "any"])}
    return rows.get(kind) or rows.get("any")
