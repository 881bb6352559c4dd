"""Forms of the chart: a new mark, a mark as seen, the survey's own words."""

import json
from typing import Any

from django import forms
from django.utils.translation import get_language
from django.utils.translation import gettext_lazy as _

from purfling.craft.marks import kinds_for
from purfling.shop.forms.base import RecordForm
from purfling.shop.models import Photograph, Sighting, Survey
from purfling.words import say


def choices(subject: str, values: list[str]) -> list[tuple[str, str]]:
    """Values with the glossary's words in the page's language."""
    language = (get_language() or "en")[:2]
    return [(v, say(f"marks.{subject}_{v}", language)) for v in values]


def kind_choices(is_bow: bool) -> list[tuple[str, list[tuple[str, str]]]]:
    """The glossary in its families."""
    language = (get_language() or "en")[:2]
    groups: dict[str, list[tuple[str, str]]] = {}
    for group, kinds in kinds_for(is_bow):
        groups.setdefault(say(f"marks.group_{group}", language), []).extend(choices("kind", list(kinds)))
    return list(groups.items())


class SightingForm(RecordForm):
    """A mark as this survey sees it."""

    class Meta:
        model = Sighting
        fields = (
            "kind",
            "length_mm",
            "severity",
            "age",
            "state",
            "whose",
            "decision",
            "words",
            "cause",
            "cause_again",
        )
        labels = {
            "kind": _("What it is"),
            "length_mm": _("Length, mm"),
            "severity": _("How grave"),
            "age": _("Old, new or uncovered"),
            "state": _("Moving or stable"),
            "whose": _("Ours or theirs"),
            "decision": _("What to do"),
            "words": _("What is seen"),
            "cause": _("Probable cause (an opinion)"),
            "cause_again": _("Second look at the cause"),
        }
        widgets = {"words": forms.Textarea, "cause": forms.Textarea, "cause_again": forms.Textarea}

    def __init__(self, *args: Any, is_bow: bool = False, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["kind"] = forms.ChoiceField(choices=kind_choices(is_bow), label=_("What it is"))
        for name in ("severity", "age", "state", "whose", "decision"):
            values = list(dict(Sighting._meta.get_field(name).choices))
            self.fields[name] = forms.ChoiceField(
                choices=choices(name, values),
                label=self.fields[name].label,
                initial=self.initial.get(name),
                required=False,
            )
        self.fields["length_mm"].widget.attrs.update({"inputmode": "decimal", "step": "0.5"})
        for name in ("words", "cause", "cause_again"):
            self.fields[name].widget.attrs["rows"] = 2

    def clean(self) -> dict[str, Any]:
        """A choice that was not given is left as it stands."""
        cleaned = super().clean()
        for name in ("severity", "age", "state", "whose", "decision"):
            if not cleaned.get(name):
                cleaned.pop(name, None)
        return cleaned


class NewMarkForm(SightingForm):
    """A mark that is touched on the chart: where it is on the sheet, then what it is."""

    touched = forms.CharField(max_length=2000, widget=forms.HiddenInput)
    closer = forms.CharField(max_length=16, required=False, widget=forms.HiddenInput)
    along_edge = forms.BooleanField(required=False, widget=forms.HiddenInput)

    def clean_touched(self) -> list[tuple[float, float]]:
        """[[x, y], ...] on the sheet [mm, y up]."""
        try:
            given = json.loads(self.cleaned_data["touched"])
            found = [(float(x), float(y)) for x, y in given]
        except (ValueError, TypeError) as wrong:
            raise forms.ValidationError(_("Touch the sheet where something is.")) from wrong
        if not 1 <= len(found) <= 40:
            raise forms.ValidationError(_("Touch the sheet where something is."))
        return found


class SurveyForm(RecordForm):
    """What the inspection was for, in which light, and what it left out."""

    lights = forms.MultipleChoiceField(
        required=False, widget=forms.CheckboxSelectMultiple, label=_("Lights used")
    )

    class Meta:
        model = Survey
        fields = ("purpose", "lights", "not_examined", "summary", "opinion")
        labels = {
            "purpose": _("Purpose of the survey"),
            "not_examined": _("Not examined, and why"),
            "summary": _("What is seen, in a few words"),
            "opinion": _("Opinion, kept apart from what is seen"),
        }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["lights"].choices = choices("light", Photograph.Light.values)


class EditionForm(forms.Form):
    """Why a frozen survey is gone over again."""

    because = forms.CharField(max_length=300, label=_("Why it is changed"))
