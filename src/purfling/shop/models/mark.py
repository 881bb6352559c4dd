"""Marks on the chart: one numbered thing of an object, and how each survey saw it."""

from django.db import models

from purfling.shop.models.object import Object
from purfling.shop.models.record import Record
from purfling.shop.models.survey import OfSurvey, Survey


class Mark(Record):
    """One thing on an object, numbered for good. ``first_seen`` is the survey that found it."""

    object = models.ForeignKey(Object, on_delete=models.PROTECT, related_name="marks")
    number = models.PositiveIntegerField(editable=False)
    first_seen = models.ForeignKey(Survey, on_delete=models.PROTECT, related_name="+")

    class Meta:
        ordering = ("object", "number")
        constraints = (models.UniqueConstraint(fields=["object", "number"], name="one_mark_of_a_number"),)


class Sighting(OfSurvey):
    """A mark as one survey saw it.

    ``points`` are unit coordinates [[u, v], ...] of the view, so that they outlive other dimensions of the
    object: one for a point, more for a run; ``along_edge`` lets the run follow the outline. ``checked`` is
    false while a mark was only taken over from the survey before. ``cause`` is an opinion, ``cause_again``
    the second look at it. ``area_mm2`` is from an outline touched on a photograph.
    """

    class State(models.TextChoices):
        UNKNOWN = "unknown"
        STABLE = "stable"
        MOVING = "moving"

    class Whose(models.TextChoices):
        UNKNOWN = "unknown"
        THEIRS = "theirs"
        OURS = "ours"

    class Age(models.TextChoices):
        OLD = "old"
        NEW = "new"
        UNCOVERED = "uncovered"

    class Severity(models.TextChoices):
        SLIGHT = "slight"
        CLEAR = "clear"
        GRAVE = "grave"

    class Decision(models.TextChoices):
        LEAVE = "leave"
        WATCH = "watch"
        TREAT = "treat"
        REFER = "refer"

    mark = models.ForeignKey(Mark, on_delete=models.PROTECT, related_name="sightings")
    survey = models.ForeignKey(Survey, on_delete=models.PROTECT, related_name="sightings")
    view = models.CharField(max_length=16)
    points = models.JSONField()
    along_edge = models.BooleanField(default=False)
    kind = models.CharField(max_length=20)
    length_mm = models.FloatField(null=True, blank=True)
    area_mm2 = models.FloatField(null=True, blank=True)
    state = models.CharField(max_length=8, choices=State.choices, default=State.UNKNOWN)
    whose = models.CharField(max_length=8, choices=Whose.choices, default=Whose.UNKNOWN)
    age = models.CharField(max_length=10, choices=Age.choices, default=Age.OLD)
    severity = models.CharField(max_length=8, choices=Severity.choices, default=Severity.SLIGHT)
    decision = models.CharField(max_length=8, choices=Decision.choices, default=Decision.LEAVE)
    words = models.TextField(blank=True)
    cause = models.TextField(blank=True)
    cause_again = models.TextField(blank=True)
    checked = models.BooleanField(default=True)
    gone = models.BooleanField(default=False)

    class Meta:
        ordering = ("survey", "mark__number")
        constraints = (models.UniqueConstraint(fields=["survey", "mark"], name="a_mark_once_in_a_survey"),)
