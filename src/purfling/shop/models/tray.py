"""The tray: loose parts of an object, each by its hole and place."""

from django.db import models

from purfling.shop.models.record import Record
from purfling.shop.models.visit import VisitObject


class LoosePart(Record):
    """One loose part. ``hole`` 1 is the lowest string's; 0 where a part has no hole.

    ``went`` says where it is now: in the tray, back on, kept in an envelope with the object, or elsewhere
    by ``word``.
    """

    class Went(models.TextChoices):
        TRAY = "tray"
        BACK = "back"
        ENVELOPE = "envelope"
        NAMED = "named"

    visit_object = models.ForeignKey(VisitObject, on_delete=models.PROTECT, related_name="parts")
    part = models.CharField(max_length=20)
    hole = models.PositiveSmallIntegerField(default=0)
    place = models.CharField(max_length=60, blank=True)
    went = models.CharField(max_length=8, choices=Went.choices, default=Went.TRAY)
    in_at = models.DateTimeField()
    out_at = models.DateTimeField(null=True, blank=True)
    word = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ("part", "hole", "in_at", "id")
        constraints = (
            models.UniqueConstraint(
                fields=["visit_object", "part", "hole"],
                condition=models.Q(went="tray"),
                name="a_part_once_in_the_tray",
            ),
        )
