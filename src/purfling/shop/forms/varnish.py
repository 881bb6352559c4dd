"""Forms of the varnish log: a place on the sheet, what was on the swab, what was laid on."""

from typing import Any
from uuid import UUID

from django import forms
from django.utils.translation import gettext_lazy as _

from purfling.craft.varnish.meets import kinds as all_kinds
from purfling.craft.varnish.solvents import solvents
from purfling.drawing.drawings.varnish_sheet import sheet_views
from purfling.shop.domain.closed import closable_tasks
from purfling.shop.domain.spot import SWABS
from purfling.shop.forms.base import MomentField
from purfling.shop.models import FingerLook, Lot, Material, Recipe, SpotTest, VarnishLine
from purfling.shop.queries.varnish import language, marks_of
from purfling.words import say

PARTS = 3


def choices(subject: str, values: Any, blank: str = "") -> list[tuple[str, str]]:
    """Choices with the trade's words, in the maker's language."""
    rows = [(v, say(f"varnish.{subject}_{v}", language())) for v in values]
    return [("", blank or "–"), *rows] if blank != "none" else rows


def add_parts(form: forms.Form) -> None:
    """Rows of (solvent, volume)."""
    for n in range(PARTS):
        form.fields[f"part_{n}"] = forms.ChoiceField(
            required=False, label=_("Part"), choices=choices("solvent", solvents())
        )
        form.fields[f"volume_{n}"] = forms.FloatField(
            required=False, label=_("Volume"), min_value=0.0001, max_value=1e6, localize=True
        )


class PlaceForm(forms.Form):
    """A touched place of the sheet; the view can also be chosen, and the place said in words."""

    view = forms.ChoiceField(required=False, label=_("View"))
    x = forms.FloatField(required=False, widget=forms.HiddenInput)
    y = forms.FloatField(required=False, widget=forms.HiddenInput)
    place = forms.CharField(required=False, max_length=120, label=_("Place in words"))
    mark = forms.TypedChoiceField(
        required=False, coerce=UUID, empty_value=None, label=_("Belongs to a mark on the chart")
    )

    def __init__(self, *args: Any, thing: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["view"].choices = choices("view", sheet_views(thing.is_bow))
        marks = marks_of(thing)
        self.fields["mark"].choices = [("", "–"), *((str(id), words) for id, words in marks)]
        if not marks:
            del self.fields["mark"]
        for field in self.fields.values():
            if isinstance(field.widget, forms.Textarea):
                field.widget.attrs.update({"rows": 2})

    def clean(self) -> dict[str, Any]:
        """A view without a touch is words only."""
        values = super().clean()
        if values.get("view") and (values.get("x") is None or values.get("y") is None):
            words = say(f"varnish.view_{values['view']}", language())
            values["place"] = ", ".join(w for w in (words, values.get("place", "")) if w)[:120]
            values["view"] = ""
        return values


class MixtureForm(PlaceForm):
    """A place, a material or a mixture of the table's solvents, or kinds."""

    material = forms.ModelChoiceField(
        Material.objects.filter(off=False), required=False, empty_label="–", label=_("Material")
    )
    lot = forms.ModelChoiceField(Lot.objects.none(), required=False, empty_label="–", label=_("Lot"))
    kinds = forms.MultipleChoiceField(
        required=False, widget=forms.CheckboxSelectMultiple, label=_("Or what it is")
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["lot"].queryset = Lot.objects.filter(used_up_on=None).select_related("material")
        self.fields["lot"].label_from_instance = lambda lot: f"{lot.material} · {lot.number}"
        self.fields["kinds"].choices = choices("kind", all_kinds(), "none")
        add_parts(self)

    @property
    def part_rows(self) -> list[tuple[Any, Any]]:
        """The rows of the mixture for the page."""
        return [(self[f"part_{n}"], self[f"volume_{n}"]) for n in range(PARTS)]

    def clean(self) -> dict[str, Any]:
        """A part has a volume; a lot brings its material."""
        values = super().clean()
        parts = []
        for n in range(PARTS):
            key, volume = values.pop(f"part_{n}", ""), values.pop(f"volume_{n}", None)
            if key and volume is None:
                self.add_error(f"volume_{n}", _("How much of it, by volume?"))
            elif key:
                parts.append([key, volume])
        values["mixture"] = parts
        if values.get("lot") and not values.get("material"):
            values["material"] = values["lot"].material
        return values


class PartsForm(forms.Form):
    """A mixture asked about: parts of the table's solvents by volume."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        add_parts(self)

    @property
    def part_rows(self) -> list[tuple[Any, Any]]:
        """The rows of the mixture for the page."""
        return [(self[f"part_{n}"], self[f"volume_{n}"]) for n in range(PARTS)]

    def parts(self) -> list[tuple[str, float]]:
        """(solvent, volume); a solvent without a volume is one part."""
        rows = [(self.cleaned_data[f"part_{n}"], self.cleaned_data[f"volume_{n}"]) for n in range(PARTS)]
        return [(key, volume or 1.0) for key, volume in rows if key]


class SpotForm(MixtureForm):
    """A spot test."""

    dwell_s = forms.IntegerField(required=False, min_value=0, max_value=3600, label=_("Dwell, seconds"))
    swab = forms.ChoiceField(required=False, label=_("Swab"))
    result = forms.ChoiceField(widget=forms.RadioSelect, label=_("What was seen"))
    follows = forms.ChoiceField(required=False, widget=forms.RadioSelect, label=_("What follows"))
    shield = forms.CharField(required=False, max_length=120, label=_("Shield used"))
    at = MomentField(label=_("When, if not now"))
    note = forms.CharField(required=False, widget=forms.Textarea, label=_("Note"))
    picture = forms.FileField(required=False, label=_("Photograph"))

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["swab"].choices = choices("swab", SWABS)
        self.fields["result"].choices = choices("result", SpotTest.Result.values, "none")
        self.fields["follows"].choices = choices("follows", SpotTest.Follows.values, "none")
        self.fields["picture"].widget.attrs.update({"accept": "image/*"})


class LineForm(MixtureForm):
    """A line of the log; which fields are shown is the task's."""

    recipe = forms.ModelChoiceField(
        Recipe.objects.filter(off=False), required=False, empty_label="–", label=_("Recipe")
    )
    batch = forms.CharField(required=False, max_length=60, label=_("Batch"))
    coat = forms.IntegerField(required=False, min_value=1, max_value=60, label=_("Coat, if not the next"))
    ph = forms.FloatField(required=False, localize=True, label=_("Acidity of the water, pH"))
    conductivity_us_cm = forms.FloatField(required=False, localize=True, label=_("Salts, µS/cm"))
    grit = forms.IntegerField(required=False, label=_("Grit"))
    swabs = forms.IntegerField(required=False, label=_("Swabs used"))
    area = forms.CharField(required=False, max_length=120, label=_("Area"))
    left = forms.CharField(required=False, max_length=200, label=_("What was left on, and why"))
    building = forms.TypedChoiceField(
        required=False,
        coerce={"1": True, "0": False}.get,
        empty_value=None,
        choices=[("", "–"), ("1", _("building, it stays")), ("0", _("comes off again"))],
        label=_("This polish"),
    )
    humidity_percent = forms.FloatField(required=False, localize=True, label=_("Humidity, %"))
    temperature_c = forms.FloatField(required=False, localize=True, label=_("Temperature, °C"))
    cabinet_min = forms.IntegerField(required=False, min_value=0, label=_("Light cabinet, minutes"))
    shield = forms.CharField(required=False, max_length=120, label=_("Shield used"))
    at = MomentField(label=_("When, if not now"))
    note = forms.CharField(required=False, widget=forms.Textarea, label=_("Note"))

    SHOWN = {
        "clean": ("area", "swabs", "left", "ph", "conductivity_us_cm", "grit", "shield"),
        "coat": ("recipe", "batch", "coat", "cabinet_min", "shield"),
        "retouch": ("recipe", "batch", "coat", "cabinet_min", "shield"),
        "rub": ("grit", "area", "left"),
        "polish": ("recipe", "batch", "building", "area", "shield"),
        "wax": ("area", "left"),
    }
    EVERY = ("humidity_percent", "temperature_c", "at", "note")
    NO_MIXTURE = ("coat", "retouch", "rub", "wax")

    def __init__(self, *args: Any, task: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.task = task
        shown = (*self.SHOWN[task], *self.EVERY)
        place = ("view", "x", "y", "place", "mark", "material", "lot")
        if task in self.NO_MIXTURE:
            keep = {*place, *shown}
        else:
            keep = {*place, *shown, "kinds", *(n for n in self.fields if n.startswith(("part_", "volume_")))}
        for name in list(self.fields):
            if name not in keep:
                del self.fields[name]
        self.own_fields = shown

    @property
    def part_rows(self) -> list[tuple[Any, Any]]:
        """The rows of the mixture, none where the task has none."""
        return [] if self.task in self.NO_MIXTURE else super().part_rows

    @property
    def shown(self) -> list[Any]:
        """The task's own fields for the page."""
        return [self[name] for name in self.own_fields]


class LookForm(forms.Form):
    """A finger on a coat."""

    bears = forms.ChoiceField(choices=[(v, v) for v in FingerLook.Bears.values])
    hours = forms.FloatField(required=False, min_value=0.1, max_value=24 * 60, localize=True)
    at = MomentField()


class ClosedForm(PlaceForm):
    """Do not touch."""

    whole = forms.BooleanField(required=False, label=_("The whole object"))
    tasks = forms.MultipleChoiceField(
        required=False, widget=forms.CheckboxSelectMultiple, label=_("For these tasks; none chosen: for all")
    )
    reason = forms.CharField(max_length=300, label=_("Reason"))

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["tasks"].choices = choices("task", closable_tasks(), "none")


class AskForm(forms.Form):
    """What is about to be done, with what."""

    task = forms.ChoiceField(required=False, label=_("Task"))
    material = forms.ModelChoiceField(
        Material.objects.filter(off=False), required=False, empty_label="–", label=_("Material")
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["task"].choices = choices("task", VarnishLine.Task.values)
