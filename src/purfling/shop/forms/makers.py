"""The way in: first start, pass phrase, assistants."""

from django import forms
from django.contrib.auth.forms import AuthenticationForm
from django.utils.translation import gettext_lazy as _

from purfling.shop.forms.base import RecordForm
from purfling.shop.models import Shop


class EnterForm(AuthenticationForm):
    """Name and pass phrase."""

    def __init__(self, *args, **kwargs) -> None:
        super().__init__(*args, **kwargs)
        self.fields["username"].label = _("Your name")
        self.fields["password"].label = _("Pass phrase")


class FirstForm(forms.Form):
    """The first start: the code from the terminal, then who owns the shop."""

    code = forms.CharField(max_length=40, label=_("One-time code from the terminal"))
    name = forms.CharField(max_length=80, label=_("Your name"))
    shop_name = forms.CharField(max_length=80, required=False, label=_("Name of the shop"))
    town = forms.CharField(max_length=80, required=False, label=_("Town"))
    phrase = forms.CharField(
        max_length=200,
        label=_("Pass phrase, twelve signs or more"),
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
        strip=False,
    )


class AssistantForm(forms.Form):
    """A further pair of hands."""

    name = forms.CharField(max_length=80, label=_("Name"))
    phrase = forms.CharField(
        max_length=200,
        label=_("Pass phrase, twelve signs or more"),
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
        strip=False,
    )


class ShopForm(RecordForm):
    """The shop's own words."""

    class Meta:
        model = Shop
        fields = ("name", "town", "address", "currency")
        labels = {
            "name": _("Name of the shop"),
            "town": _("Town"),
            "address": _("Address"),
            "currency": _("Currency"),
        }
