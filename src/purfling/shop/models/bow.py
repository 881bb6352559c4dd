"""The survey of a bow in a visit: its parts, wedges, old lapping, and the yes before anything is warmed."""

from django.db import models

from purfling.shop.models.maker import Maker
from purfling.shop.models.photograph import Photograph
from purfling.shop.models.record import Record
from purfling.shop.models.visit import VisitObject


class BowSurvey(Record):
    """What is said of a bow as a whole in one visit.

    ``lapping_failure`` is a key of the table, ``lapping_words`` the maker's own words. ``steps`` maps an
    operation that no work list holds to {"who", "at"}.
    """

    visit_object = models.OneToOneField(VisitObject, on_delete=models.PROTECT, related_name="bow_survey")
    lapping_failure = models.CharField(max_length=30, blank=True)
    lapping_words = models.CharField(max_length=300, blank=True)
    steps = models.JSONField(default=dict, blank=True)


class BowPart(Record):
    """One part of a bow: what it is made of, of which species, how it was found, in own words."""

    visit_object = models.ForeignKey(VisitObject, on_delete=models.PROTECT, related_name="bow_parts")
    part = models.CharField(max_length=12)
    material = models.CharField(max_length=24, blank=True)
    species = models.CharField(max_length=24, blank=True)
    state = models.CharField(max_length=12, blank=True)
    words = models.CharField(max_length=300, blank=True)

    class Meta:
        ordering = ("visit_object", "part")
        constraints = (models.UniqueConstraint(fields=["visit_object", "part"], name="a_bow_part_once"),)


class BowWedge(Record):
    """The wedge of one mortise: how it was found, its wood, whether it is kept or made new.

    ``photograph`` shows the mortise.
    """

    class Went(models.TextChoices):
        KEPT = "kept"
        NEW = "new"

    visit_object = models.ForeignKey(VisitObject, on_delete=models.PROTECT, related_name="bow_wedges")
    place = models.CharField(max_length=12)
    fit = models.CharField(max_length=20, blank=True)
    wood = models.CharField(max_length=60, blank=True)
    went = models.CharField(max_length=4, choices=Went.choices, blank=True)
    words = models.CharField(max_length=300, blank=True)
    photograph = models.ForeignKey(
        Photograph, null=True, blank=True, on_delete=models.PROTECT, related_name="bow_wedges"
    )

    class Meta:
        ordering = ("visit_object", "place")
        constraints = (models.UniqueConstraint(fields=["visit_object", "place"], name="a_wedge_once"),)


class Warmth(Record):
    """What a bow's owner said before a stuck part is warmed; the last word for a part holds.

    ``material`` is the frog's material as it was written when they were asked; ``price`` what was named to
    them. ``warmed_at`` is when it was warmed, ``overruled`` the word of the shop's owner that lifted a stop.
    """

    SEALED = ("price",)
    PERSONAL = ("by", "words")

    visit_object = models.ForeignKey(VisitObject, on_delete=models.PROTECT, related_name="warmths")
    part = models.CharField(max_length=12)
    material = models.CharField(max_length=24)
    yes = models.BooleanField()
    by = models.CharField(max_length=120)
    how = models.CharField(max_length=6)
    words = models.CharField(max_length=300, blank=True)
    price = models.DecimalField(max_digits=9, decimal_places=2)
    at = models.DateTimeField()
    who = models.ForeignKey(Maker, null=True, on_delete=models.PROTECT, related_name="+")
    warmed_at = models.DateTimeField(null=True, blank=True)
    warmed_by = models.ForeignKey(Maker, null=True, on_delete=models.PROTECT, related_name="+")
    overruled = models.CharField(max_length=300, blank=True)
    overruled_by = models.ForeignKey(Maker, null=True, on_delete=models.PROTECT, related_name="+")

    class Meta:
        ordering = ("at", "id")
