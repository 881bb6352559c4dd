"""Surveys: what one inspection saw. Frozen with the arrival; a later change is a further edition."""

from typing import Any

from django.db import models

from purfling.craft.refusals import Refusal
from purfling.shop.models.maker import Maker
from purfling.shop.models.object import Object
from purfling.shop.models.record import Record
from purfling.shop.models.visit import VisitObject


class Lasting(models.QuerySet):
    """Rows of which none is taken away once it is frozen."""

    def delete(self) -> Any:
        """Refused where one of the rows is frozen."""
        field = "frozen_at" if self.model is Survey else "survey__frozen_at"
        if self.exclude(**{field: None}).exists():
            raise Refusal("survey.frozen")
        return super().delete()


class Survey(Record):
    """The inspection of one object in one visit.

    ``edition`` counts the versions of the same visit: 1 at the arrival, then one more for each later change,
    with the word of reason in ``because``. ``lights`` are the lights used, ``not_examined`` what was not
    looked at, ``summary`` what was seen, ``opinion`` what is thought of it.
    ``content`` is the whole survey as it was when frozen, ``hash`` the SHA-256 of its canonical text.
    """

    visit_object = models.ForeignKey(VisitObject, on_delete=models.PROTECT, related_name="surveys")
    object = models.ForeignKey(Object, on_delete=models.PROTECT, related_name="surveys")
    edition = models.PositiveSmallIntegerField(default=1)
    at = models.DateTimeField()
    who = models.ForeignKey(Maker, null=True, on_delete=models.PROTECT, related_name="+")
    purpose = models.CharField(max_length=120, blank=True)
    lights = models.JSONField(default=list, blank=True)
    not_examined = models.TextField(blank=True)
    summary = models.TextField(blank=True)
    opinion = models.TextField(blank=True)
    because = models.CharField(max_length=300, blank=True)
    frozen_at = models.DateTimeField(null=True, blank=True)
    frozen_by = models.ForeignKey(Maker, null=True, blank=True, on_delete=models.PROTECT, related_name="+")
    content = models.JSONField(default=dict, blank=True)
    hash = models.CharField(max_length=64, blank=True)

    objects = Lasting.as_manager()

    class Meta:
        ordering = ("object", "at", "edition")
        constraints = (
            models.UniqueConstraint(fields=["visit_object", "edition"], name="one_survey_of_an_edition"),
        )

    @property
    def is_frozen(self) -> bool:
        """It cannot be changed any more."""
        return self.frozen_at is not None

    def save(self, *args: Any, **kwargs: Any) -> None:
        """Write the row, unless the row in the book is frozen."""
        _open_or_refuse(self.pk)
        super().save(*args, **kwargs)

    def delete(self, *args: Any, **kwargs: Any) -> Any:
        """Refused once frozen."""
        _open_or_refuse(self.pk)
        return super().delete(*args, **kwargs)


def _open_or_refuse(id: Any) -> None:
    """Refuse what would change a frozen survey; the database itself refuses it as well."""
    if Survey.objects.filter(pk=id).exclude(frozen_at=None).exists():
        raise Refusal("survey.frozen")


class OfSurvey(Record):
    """A record that belongs to a survey and is frozen with it."""

    objects = Lasting.as_manager()

    class Meta:
        abstract = True

    def save(self, *args: Any, **kwargs: Any) -> None:
        """Write the row, unless its survey is frozen."""
        _open_or_refuse(self.survey_id)  # type: ignore[attr-defined]
        super().save(*args, **kwargs)

    def delete(self, *args: Any, **kwargs: Any) -> Any:
        """Refused once the survey is frozen."""
        _open_or_refuse(self.survey_id)  # type: ignore[attr-defined]
        return super().delete(*args, **kwargs)
