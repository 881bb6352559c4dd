"""Materials, lots and recipes."""

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from purfling.craft.varnish.clocks import BEARS, recipe_kinds
from purfling.craft.varnish.meets import kinds as all_kinds
from purfling.craft.varnish.solvents import solvents
from purfling.shop.domain.material import HAZARDS
from purfling.shop.forms.base import LinesField, RecordForm
from purfling.shop.forms.varnish import choices
from purfling.shop.models import Lot, Material, Recipe


class DayInput(forms.DateInput):
    """A day, by the tablet's own picker."""

    input_type = "date"

    def __init__(self) -> None:
        super().__init__(format="%Y-%m-%d")


class ManyField(forms.MultipleChoiceField):
    """Several of a list, kept as a list."""

    widget = forms.CheckboxSelectMultiple

    def __init__(self, **options: Any) -> None:
        super().__init__(required=False, **options)


class MaterialForm(RecordForm):
    """What is known of a material."""

    kinds = ManyField(label=_("What it is"))
    hazards = ManyField(label=_("Marks on the label"))
    solvent = forms.ChoiceField(required=False, label=_("In the table of solvents"))
    dispersion = forms.FloatField(required=False, localize=True, label=_("Or own fractions: dispersion"))
    polar = forms.FloatField(required=False, localize=True, label=_("polar"))
    hydrogen = forms.FloatField(required=False, localize=True, label=_("hydrogen bonds"))
    sheet_on = forms.DateField(required=False, widget=DayInput, label=_("Date of the safety sheet"))

    class Meta:
        model = Material
        fields = ("name", "kinds", "hazards", "sheet_on", "solvent", "note", "off")
        labels = {"name": _("Name"), "note": _("Note"), "off": _("No longer used")}

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["kinds"].choices = choices("kind", all_kinds(), "none")
        self.fields["hazards"].choices = choices("hazard", HAZARDS, "none")
        self.fields["solvent"].choices = choices("solvent", solvents())
        if self.instance.fractions:
            for name, value in zip(("dispersion", "polar", "hydrogen"), self.instance.fractions, strict=True):
                self.initial[name] = value

    def clean(self) -> dict[str, Any]:
        """All three fractions or none; a solvent of the table brings its kind."""
        values = super().clean()
        own = [values.pop(n, None) for n in ("dispersion", "polar", "hydrogen")]
        if any(v is not None for v in own) and None in own:
            self.add_error("dispersion", _("All three fractions, or none."))
        values["fractions"] = own if None not in own else []
        if not values.get("kinds") and values.get("solvent"):
            values["kinds"] = list(solvents()[values["solvent"]].kinds)
        if not values.get("kinds"):
            self.add_error("kinds", _("What it is decides what the stop page knows of it."))
        return values


class LotForm(forms.ModelForm):
    """A new bottle."""

    opened_on = forms.DateField(required=False, widget=DayInput, label=_("Opened on"))

    class Meta:
        model = Lot
        fields = ("number", "opened_on", "note")
        labels = {"number": _("Lot"), "note": _("Note")}


class RecipeForm(RecordForm):
    """A recipe of the shop."""

    kind = forms.ChoiceField(label=_("Kind"))
    parts = LinesField(required=False, label=_("Parts, one a line: resin, solvent, colour, how much"))
    soluble_in = ManyField(label=_("Comes off with"))

    class Meta:
        model = Recipe
        fields = ("name", "kind", "parts", "colour", "soluble_in", "note", "off")
        labels = {
            "name": _("Name"),
            "colour": _("Colour"),
            "note": _("Note"),
            "off": _("No longer used"),
        }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["kind"].choices = choices("recipe", recipe_kinds(), "none")
        self.fields["soluble_in"].choices = choices("kind", all_kinds(), "none")
        words = dict(choices("bears", BEARS))
        for bears in BEARS:
            self.fields[f"hours_{bears}"] = forms.FloatField(
                required=False,
                localize=True,
                label=_("Bears %(what)s after hours") % {"what": words[bears]},
                initial=(self.instance.hours or {}).get(bears),
            )

    def clean(self) -> dict[str, Any]:
        """The stated times as one mapping."""
        values = super().clean()
        hours = {b: values.pop(f"hours_{b}", None) for b in BEARS}
        values["hours"] = {b: h for b, h in hours.items() if h is not None}
        return values
