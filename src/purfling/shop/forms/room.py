"""The room: a reading, a logger's file, the shop's bands."""

from django import forms
from django.utils.translation import gettext_lazy as _

from purfling.shop.forms.base import MomentField, RecordForm
from purfling.shop.models import RoomBands


class RoomForm(forms.Form):
    """One reading, typed."""

    humidity_percent = forms.FloatField(
        required=False, localize=True, min_value=0, max_value=100, label=_("Humidity, %")
    )
    temperature_c = forms.FloatField(
        required=False, localize=True, min_value=-30, max_value=60, label=_("Temperature, °C")
    )
    room = forms.CharField(required=False, max_length=40, label=_("Which room"))
    at = MomentField(label=_("When, if not now"))


class RoomFileForm(forms.Form):
    """A logger's CSV."""

    file = forms.FileField(label=_("File of a logger (CSV)"))
    room = forms.CharField(required=False, max_length=40, label=_("Which room"))


class BandsForm(RecordForm):
    """Where the shop wants to be warned."""

    class Meta:
        model = RoomBands
        fields = ("humidity_low", "humidity_high", "temperature_low", "temperature_high")
        labels = {
            "humidity_low": _("Warn below, %"),
            "humidity_high": _("Warn above, %"),
            "temperature_low": _("Warn below, °C"),
            "temperature_high": _("Warn above, °C"),
        }
        localized_fields = "__all__"
