"""Players."""

from django.utils.translation import gettext_lazy as _

from purfling.shop.forms.base import RecordForm
from purfling.shop.models import Player


class PlayerForm(RecordForm):
    """What is known of a player; the name may come last."""

    FEW = ("kind", "town", "phone", "name")

    class Meta:
        model = Player
        fields = ("kind", "town", "phone", "name", "first_name", "email", "address", "note")
        labels = {
            "kind": _("Person or school"),
            "first_name": _("First name"),
            "name": _("Name"),
            "town": _("Town"),
            "phone": _("Telephone"),
            "email": _("E-mail"),
            "address": _("Address"),
            "note": _("Note"),
        }
