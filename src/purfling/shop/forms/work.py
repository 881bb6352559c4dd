"""The work list: what is put on it and what is changed."""

from django import forms
from django.utils.translation import gettext_lazy as _

from purfling.shop.forms.base import RecordForm
from purfling.shop.models import Work


class AddForm(forms.Form):
    """One operation; ``found`` while working, with the owner's word where its class stops it."""

    code = forms.CharField(max_length=40)
    note = forms.CharField(max_length=300, required=False)
    found = forms.BooleanField(required=False)
    word = forms.CharField(max_length=300, required=False)


class SeenForm(forms.Form):
    """A touch with an optional word."""

    word = forms.CharField(max_length=300, required=False)


class WorkForm(RecordForm):
    """Planned minutes and wait, what is laid on, a note."""

    class Meta:
        model = Work
        fields = ("minutes", "wait_minutes", "recipe", "note")
        labels = {
            "minutes": _("Hands, minutes"),
            "wait_minutes": _("Then waits, minutes"),
            "recipe": _("Recipe: glue, varnish, cord"),
            "note": _("Note"),
        }


class LookForm(forms.Form):
    """Dry, or again in some hours."""

    dry = forms.BooleanField(required=False)
    hours = forms.FloatField(required=False, min_value=0.25, max_value=72)
    word = forms.CharField(max_length=200, required=False)
