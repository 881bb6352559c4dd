"""Visits: the arrival and what is changed later."""

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from purfling.shop.forms.base import LinesField, MomentField, RecordForm
from purfling.shop.models import Object, Visit, VisitObject
from purfling.shop.words import WHEREABOUTS


class VisitForm(RecordForm):
    """Complaint in the player's words, case, concert, promise, limit, question."""

    comes_at = MomentField(label=_("Comes"))
    concert_at = MomentField(label=_("Next concert"))
    promise_at = MomentField(label=_("Promised for"))
    contents = LinesField(required=False, label=_("In the case, one thing a line"))

    class Meta:
        model = Visit
        fields = (
            "complaint",
            "contents",
            "comes_at",
            "concert_at",
            "promise_at",
            "approval_limit",
            "question",
        )
        labels = {
            "complaint": _("Complaint, in the player's words"),
            "approval_limit": _("May be done without asking, up to"),
            "question": _("Question owed to the player"),
        }


class ArrivalForm(VisitForm):
    """The arrival: which of the player's objects, and whether they are here now."""

    objects = forms.ModelMultipleChoiceField(
        queryset=Object.objects.none(),
        required=False,
        widget=forms.CheckboxSelectMultiple,
        label=_("Which objects"),
    )
    here = forms.BooleanField(required=False, initial=True, label=_("They are here now"))
    place = forms.CharField(required=False, max_length=60, label=_("Put where"))

    field_order = ("objects", "here", "place", "complaint", "contents")

    def __init__(self, *args: Any, player: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["objects"].queryset = player.things.all()
        self.fields["objects"].label_from_instance = thing_words

    def values(self) -> dict[str, Any]:
        """The visit's own values, without the choice of objects."""
        return {k: v for k, v in super().values().items() if k not in ("objects", "here", "place")}


def thing_words(thing: Object) -> str:
    """An object in a line of a list."""
    from purfling.shop.words import object_words

    return object_words(thing)


class WhereaboutsForm(forms.Form):
    """Where an object is from now on."""

    to = forms.ChoiceField(choices=[(k, WHEREABOUTS[k]) for k in VisitObject.Whereabouts.values])
    place = forms.CharField(required=False, max_length=60)
    seen = forms.IntegerField(required=False)


class LoanForm(forms.Form):
    """What is lent, back when."""

    what = forms.CharField(max_length=120, label=_("Lent to the player"))
    back_at = MomentField(label=_("Back by"))
