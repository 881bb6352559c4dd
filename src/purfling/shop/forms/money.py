"""Money: terms, prices, the lines of an estimate, answers, payments."""

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from purfling.reckonings.money.rates import countries, names_of
from purfling.shop.domain.pricing import KINDS
from purfling.shop.forms.base import RecordForm
from purfling.shop.models import Answered, Price, Terms
from purfling.shop.words import ANSWERED_HOW, PRICE_BASIS, PRICE_KIND, TAX

FREE_ROWS = 4


class TermsForm(RecordForm):
    """The shop's terms for money."""

    class Meta:
        model = Terms
        fields = (
            "seller",
            "line_one",
            "postcode",
            "town",
            "country",
            "vat_number",
            "tax_number",
            "usual_tax",
            "tax_reason",
            "prices_are_gross",
            "hourly",
            "iban",
            "bic",
            "due_days",
            "valid_days",
            "small_limit",
            "words",
        )
        labels = {
            "seller": _("Name on the papers"),
            "line_one": _("Street"),
            "postcode": _("Postcode"),
            "town": _("Town"),
            "country": _("Country, two letters"),
            "vat_number": _("VAT number"),
            "tax_number": _("Tax number"),
            "usual_tax": _("Usual tax"),
            "tax_reason": _("Where no tax is due: the reason, in words"),
            "prices_are_gross": _("The prices on the wall hold the tax"),
            "hourly": _("Price of an hour"),
            "iban": _("Account (IBAN)"),
            "bic": _("Bank (BIC)"),
            "due_days": _("Days to pay"),
            "valid_days": _("Days an estimate stands"),
            "small_limit": _("Short form of the invoice up to"),
            "words": _("Words under the invoice"),
        }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["country"] = forms.ChoiceField(
            choices=[(c, c) for c in sorted(countries())], label=_("Country, two letters")
        )
        self.fields["usual_tax"] = forms.ChoiceField(choices=list(TAX.items()), label=_("Usual tax"))


class PriceForm(forms.Form):
    """A price for the wall."""

    code = forms.CharField(max_length=40, label=_("Short name"))
    words = forms.CharField(max_length=120, label=_("Words"))
    kind = forms.ChoiceField(choices=[(k, PRICE_KIND[k]) for k in KINDS], label=_("For"))
    basis = forms.ChoiceField(choices=[(b, PRICE_BASIS[b]) for b in Price.Basis.values], label=_("Basis"))
    amount = forms.DecimalField(max_digits=9, decimal_places=2, min_value=0, localize=True, label=_("Price"))
    cost = forms.DecimalField(
        max_digits=9,
        decimal_places=2,
        min_value=0,
        localize=True,
        required=False,
        label=_("Cost to the shop"),
    )


class EstimateForm(forms.Form):
    """What stands beside the lines of an estimate."""

    risks = forms.CharField(required=False, widget=forms.Textarea(attrs={"rows": 2}), label=_("Risks"))
    not_included = forms.CharField(
        required=False, widget=forms.Textarea(attrs={"rows": 2}), label=_("Not included")
    )
    not_above = forms.DecimalField(
        required=False, max_digits=9, decimal_places=2, min_value=0, localize=True, label=_("Not above")
    )
    promise_words = forms.CharField(required=False, max_length=200, label=_("Ready, and how sure"))


class AnswerForm(forms.Form):
    """A yes or a no: who, how, in what words."""

    by = forms.CharField(max_length=120, label=_("Who answered"))
    how = forms.ChoiceField(
        choices=[(h, ANSWERED_HOW[h]) for h in Answered.How.values if h != "link"], label=_("How")
    )
    words = forms.CharField(required=False, max_length=2000, label=_("Words"))


class PaymentForm(forms.Form):
    """Money that came in."""

    amount = forms.DecimalField(max_digits=11, decimal_places=2, localize=True, label=_("Amount"))
    how = forms.CharField(required=False, max_length=40, label=_("How"))


class PeriodForm(forms.Form):
    """From one day to another."""

    first = forms.DateField(widget=forms.DateInput(attrs={"type": "date"}), label=_("From"))
    last = forms.DateField(widget=forms.DateInput(attrs={"type": "date"}), label=_("To"))


def lines_of(data: Any, prices: Any) -> list[dict[str, Any]]:
    """The lines a page posts: touched prices with their quantities, then the free rows that have words."""
    found: list[dict[str, Any]] = []
    for price in prices:
        quantity = (data.get(f"price-{price.pk}") or "").strip()
        if quantity and quantity != "0":
            found.append(
                {
                    "words": price.words,
                    "quantity": quantity,
                    "unit_price": str(price.amount),
                    "tax": price.tax,
                    "work": price.code,
                    "group": data.get(f"group-{price.pk}", "").strip()[:20],
                }
            )
    for i in range(FREE_ROWS):
        words = (data.get(f"words-{i}") or "").strip()
        if words:
            found.append(
                {
                    "words": words,
                    "quantity": data.get(f"quantity-{i}") or "1",
                    "unit_price": data.get(f"amount-{i}") or "",
                    "group": (data.get(f"group-{i}") or "").strip()[:20],
                }
            )
    return found


__all__ = ["AnswerForm", "EstimateForm", "PaymentForm", "PeriodForm", "PriceForm", "TermsForm", "names_of"]
