"""The shop's own catalogue and its bench hours, as lines that a maker writes."""

import re
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from purfling.planning.calendar import WEEKDAYS
from purfling.shop.forms.base import LinesField
from purfling.shop.words import KIND, WAIT

SPAN = re.compile(r"^(\d{1,2}:\d\d)\s*[-–]\s*(\d{1,2}:\d\d)$")
EVENING = re.compile(r"^(\d{4}-\d\d-\d\d)\s+(\d{1,2}:\d\d)\s*[-–]\s*(\d{1,2}:\d\d)$")


class OperationForm(forms.Form):
    """One operation of the shop's catalogue; an empty box leaves the catalogue's."""

    violin = forms.IntegerField(
        required=False, min_value=1, max_value=2400, label=_("Hands on a violin, minutes")
    )
    viola = forms.IntegerField(
        required=False, min_value=1, max_value=2400, label=_("Hands on a viola, minutes")
    )
    cello = forms.IntegerField(
        required=False, min_value=1, max_value=2400, label=_("Hands on a cello, minutes")
    )
    wait_kind = forms.ChoiceField(
        required=False, choices=[("", _("as in the catalogue")), *WAIT.items()], label=_("Then")
    )
    wait_minutes = forms.IntegerField(
        required=False, min_value=0, max_value=20000, label=_("Then waits, minutes")
    )
    price = forms.DecimalField(
        required=False, min_value=0, max_digits=10, decimal_places=2, label=_("Price on the wall")
    )
    usual = forms.NullBooleanField(
        required=False,
        label=_("In the usual service"),
        widget=forms.Select(choices=[("", _("as in the catalogue")), ("true", _("yes")), ("false", _("no"))]),
    )
    owner_only = forms.BooleanField(required=False, label=_("Kept for the owner's hands"))
    owner_only_word = forms.CharField(required=False, max_length=200, label=_("Why, for the assistant"))
    off = forms.BooleanField(required=False, label=_("Not done here"))
    name_en = forms.CharField(required=False, max_length=80, label=_("Our own name, English"))
    name_de = forms.CharField(required=False, max_length=80, label=_("Our own name, German"))
    seen = forms.IntegerField(widget=forms.HiddenInput, required=False)

    def values(self) -> dict[str, Any]:
        """What the verb is called with."""
        given = dict(self.cleaned_data)
        minutes = {f: given.pop(f) for f in ("violin", "viola", "cello")}
        return given | {"minutes": {f: m for f, m in minutes.items() if m}}


class OwnOperationForm(forms.Form):
    """An operation that only this shop has."""

    name = forms.CharField(max_length=80, label=_("Name"))
    of = forms.ChoiceField(choices=list(KIND.items()), label=_("Instrument or bow"))
    minutes = forms.IntegerField(min_value=1, max_value=2400, label=_("Hands, minutes"))
    price = forms.DecimalField(
        required=False, min_value=0, max_digits=10, decimal_places=2, label=_("Price on the wall")
    )


class HoursForm(forms.Form):
    """Bench hours as lines: ``mon 09:00-12:30 13:30-18:00``."""

    week = LinesField(required=False, label=_("Bench hours, one weekday a line: mon 09:00-12:30 13:30-18:00"))
    closed = LinesField(required=False, label=_("Closed days, one a line: 2026-12-24"))
    evenings = LinesField(
        required=False, label=_("Evenings that are worked, one a line: 2026-12-02 19:00-21:30")
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name, rows in (("week", 5), ("closed", 2), ("evenings", 2)):
            self.fields[name].widget.attrs["rows"] = rows

    def clean_week(self) -> dict[str, list[list[str]]]:
        """Lines as {weekday: [[from, to], ...]}."""
        found: dict[str, list[list[str]]] = {}
        for line in self.cleaned_data["week"]:
            day, *spans = line.replace(",", " ").split()
            day = day.lower().rstrip(":")
            parts = [SPAN.match(s) for s in spans]
            if day not in WEEKDAYS or not spans or not all(parts):
                raise forms.ValidationError(_("Write each line as mon 09:00-12:30 13:30-18:00"))
            found[day] = [[p.group(1).zfill(5), p.group(2).zfill(5)] for p in parts]
        return found

    def clean_evenings(self) -> list[list[str]]:
        """Lines as [[from, to], ...]."""
        found = []
        for line in self.cleaned_data["evenings"]:
            part = EVENING.match(line)
            if part is None:
                raise forms.ValidationError(_("Write each line as 2026-12-02 19:00-21:30"))
            day, begin, end = part.groups()
            found.append([f"{day}T{begin.zfill(5)}", f"{day}T{end.zfill(5)}"])
        return found


def hours_lines(row) -> dict[str, list[str]]:
    """Bench hours as the lines of the form."""
    return {
        "week": [f"{d} " + " ".join(f"{a}-{b}" for a, b in spans) for d, spans in row.week.items()],
        "closed": list(row.closed),
        "evenings": [f"{a[:10]} {a[11:16]}-{b[11:16]}" for a, b in row.evenings],
    }
