"""What all forms share: our own renderer, the version that was seen, sealed fields left out."""

from typing import Any

from django import forms
from django.forms.renderers import TemplatesSetting

from purfling.shop.access import sealed_for


class Renderer(TemplatesSetting):
    """Fields as we write them: label over a wide box, help and complaint in words."""

    form_template_name = "shop/forms/form.html"
    field_template_name = "shop/forms/field.html"


class MomentInput(forms.DateTimeInput):
    """A date and an hour, by the tablet's own picker."""

    input_type = "datetime-local"

    def __init__(self) -> None:
        super().__init__(format="%Y-%m-%dT%H:%M")


class MomentField(forms.DateTimeField):
    """A moment in the shop's time zone."""

    widget = MomentInput

    def __init__(self, **options: Any) -> None:
        super().__init__(required=False, input_formats=["%Y-%m-%dT%H:%M", "%Y-%m-%dT%H:%M:%S"], **options)


class LinesField(forms.CharField):
    """A list of short texts, one a line."""

    widget = forms.Textarea

    def prepare_value(self, value: Any) -> Any:
        """The list as lines."""
        return "\n".join(value) if isinstance(value, list) else value

    def to_python(self, value: Any) -> list[str]:
        """The lines as a list."""
        lines = [line.strip() for line in (value or "").splitlines()]
        return [line[:200] for line in lines if line][:60]


class RecordForm(forms.ModelForm):
    """A form over a record: ``values()`` is what the domain verb is called with, ``seen`` the version shown.

    Fields that are sealed for the user are not in the form at all: neither shown nor taken.
    """

    seen = forms.IntegerField(widget=forms.HiddenInput, required=False)
    FEW: tuple[str, ...] = ()

    def few(self) -> list[forms.BoundField]:
        """What is asked first; the rest waits under "more"."""
        return [self[name] for name in self.fields if name in self.FEW or name == "seen"]

    def rest(self) -> list[forms.BoundField]:
        """What waits under "more"."""
        return [self[name] for name in self.fields if name not in self.FEW and name != "seen"]

    def __init__(self, *args: Any, user: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name in sealed_for(user, type(self.instance)):
            self.fields.pop(name, None)
        if not self.instance._state.adding:
            self.initial["seen"] = self.instance.version
        for field in self.fields.values():
            if isinstance(field.widget, forms.Textarea):
                field.widget.attrs.update({"rows": 3, "cols": None})

    def values(self) -> dict[str, Any]:
        """The cleaned values without ``seen``."""
        return {k: v for k, v in self.cleaned_data.items() if k != "seen"}

    @property
    def version_seen(self) -> int | None:
        """The version that the writer had before the eyes."""
        return self.cleaned_data.get("seen")
