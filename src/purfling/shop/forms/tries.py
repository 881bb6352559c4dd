"""One post or sound try."""

from django import forms
from django.utils.translation import gettext_lazy as _

from purfling.shop.models import Try
from purfling.shop.words import VERDICT


class FigureField(forms.FloatField):
    """A number with a point or a comma."""

    widget = forms.TextInput(attrs={"inputmode": "decimal", "autocomplete": "off"})

    def to_python(self, value):
        """Comma as point."""
        return super().to_python(value.replace(",", ".") if isinstance(value, str) else value)


class TryForm(forms.Form):
    """Place, tightness, the maker's word."""

    behind_mm = FigureField(required=False, label=_("Behind the treble foot, mm"))
    inside_mm = FigureField(required=False, label=_("Inside its outer end, mm"))
    tightness = forms.TypedChoiceField(
        required=False,
        coerce=int,
        empty_value=None,
        choices=[("", "–"), *((n, str(n)) for n in range(1, 6))],
        label=_("Tightness, 1 loose to 5 tight"),
    )
    what = forms.CharField(required=False, max_length=120, label=_("What else was changed"))
    maker_word = forms.CharField(required=False, max_length=300, label=_("The maker's word"))
    player_word = forms.CharField(required=False, max_length=300, label=_("The player's word"))


class VerdictForm(forms.ModelForm):
    """What came after the try."""

    seen = forms.IntegerField(required=False, widget=forms.HiddenInput)
    verdict = forms.ChoiceField(required=False, choices=[("", "–"), *VERDICT.items()])

    class Meta:
        model = Try
        fields = ("player_word", "verdict")
