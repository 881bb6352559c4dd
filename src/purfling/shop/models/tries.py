"""Post and sound tries: where the post stood, how tight, what maker and player said."""

from django.db import models

from purfling.shop.models.maker import Maker
from purfling.shop.models.record import Record
from purfling.shop.models.visit import VisitObject


class Try(Record):
    """One try. Place of the post [mm]: ``behind_mm`` behind the treble foot, ``inside_mm`` inside its outer
    end.

    ``number`` 0 is as found. ``back_to`` is the earlier try whose place was taken up again.
    """

    PERSONAL = ("player_word",)

    class Verdict(models.TextChoices):
        OPEN = ""
        BETTER = "better"
        SAME = "same"
        WORSE = "worse"
        KEPT = "kept"

    visit_object = models.ForeignKey(VisitObject, on_delete=models.PROTECT, related_name="tries")
    number = models.PositiveSmallIntegerField()
    at = models.DateTimeField()
    who = models.ForeignKey(Maker, null=True, on_delete=models.PROTECT, related_name="+")
    behind_mm = models.FloatField(null=True, blank=True)
    inside_mm = models.FloatField(null=True, blank=True)
    tightness = models.PositiveSmallIntegerField(null=True, blank=True)
    what = models.CharField(max_length=120, blank=True)
    maker_word = models.CharField(max_length=300, blank=True)
    player_word = models.CharField(max_length=300, blank=True)
    verdict = models.CharField(max_length=6, choices=Verdict.choices, blank=True)
    back_to = models.ForeignKey("self", null=True, blank=True, on_delete=models.PROTECT, related_name="+")

    class Meta:
        ordering = ("visit_object", "number")
        constraints = (
            models.UniqueConstraint(fields=["visit_object", "number"], name="a_try_once_in_a_visit"),
        )
