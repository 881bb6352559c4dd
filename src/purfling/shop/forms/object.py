"""Instruments and bows."""

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from purfling.shop.forms.base import LinesField, RecordForm
from purfling.shop.models import Object

LONGEST_MM = 1500.0


class MaterialsField(LinesField):
    """Materials as lines ``part: species``."""

    def prepare_value(self, value: Any) -> Any:
        """[{part, species}] as lines."""
        if isinstance(value, list) and value and isinstance(value[0], dict):
            return "\n".join(f"{m['part']}: {m['species']}" for m in value)
        return super().prepare_value(value)

    def to_python(self, value: Any) -> list[dict[str, str]]:
        """Lines as [{part, species}]."""
        found = []
        for line in super().to_python(value):
            part, _colon, species = line.partition(":")
            if not species.strip():
                raise forms.ValidationError(
                    _("Write each line as part: species, for example back: Acer platanoides")
                )
            found.append({"part": part.strip(), "species": species.strip()})
        return found


class ObjectForm(RecordForm):
    """What is known of an instrument or a bow."""

    materials = MaterialsField(required=False, label=_("Materials, one a line (part: species)"))

    FEW = ("kind", "family", "treat_as", "nickname")

    class Meta:
        model = Object
        fields = (
            "kind",
            "family",
            "size",
            "treat_as",
            "nickname",
            "label",
            "school_stated",
            "age_stated",
            "school_ours",
            "age_ours",
            "back",
            "length_mm",
            "upper_mm",
            "lower_mm",
            "materials",
            "asset",
            "last_service_by",
            "declared_value",
            "note",
        )
        labels = {
            "kind": _("Instrument or bow"),
            "family": _("Family"),
            "size": _("Size"),
            "treat_as": _("Class"),
            "nickname": _("Called"),
            "label": _("Label or stamp"),
            "school_stated": _("School, as the owner says"),
            "age_stated": _("Age, as the owner says"),
            "school_ours": _("School, as we see it"),
            "age_ours": _("Age, as we see it"),
            "back": _("Back"),
            "length_mm": _("Length of body or stick, mm"),
            "upper_mm": _("Upper bout, mm"),
            "lower_mm": _("Lower bout, mm"),
            "asset": _("School number"),
            "last_service_by": _("Last serviced by"),
            "declared_value": _("Declared value"),
            "note": _("Note"),
        }

    def clean(self) -> dict[str, Any]:
        """Dimensions are millimetres of an instrument."""
        cleaned = super().clean()
        for name in ("length_mm", "upper_mm", "lower_mm"):
            value = cleaned.get(name)
            if value is not None and not 20.0 <= value <= LONGEST_MM:
                self.add_error(name, _("Between 20 and 1500 mm."))
        return cleaned
