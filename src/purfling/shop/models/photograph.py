"""Photographs: the original unchanged under its SHA-256, copies without place and owner."""

from django.db import models

from purfling.shop.models.maker import Maker
from purfling.shop.models.mark import Mark
from purfling.shop.models.object import Object
from purfling.shop.models.record import Record
from purfling.shop.models.visit import VisitObject


class Photograph(Record):
    """One picture of an object in a visit.

    ``sha256`` names the original's file; ``look`` is a fingerprint of what it shows (64 bits, hex), by which
    an altered copy is recognised. ``width`` and ``height`` are those of the upright picture [px]. ``ready``
    once the copies are made; ``trouble`` says why they could not be. ``side`` and ``angle_deg`` belong to
    raking light. ``scale_points`` are touched places [[x, y], ...] as shares of width and height: two with
    ``scale_mm`` [length], or the four corners of a rectangle with [width, height].
    """

    class Light(models.TextChoices):
        NORMAL = "normal"
        RAKING = "raking"
        ULTRAVIOLET = "ultraviolet"
        TRANSMITTED = "transmitted"

    object = models.ForeignKey(Object, on_delete=models.PROTECT, related_name="photographs")
    visit_object = models.ForeignKey(VisitObject, on_delete=models.PROTECT, related_name="photographs")
    marks = models.ManyToManyField(Mark, through="Shown", related_name="photographs")
    view = models.CharField(max_length=16, blank=True)
    sha256 = models.CharField(max_length=64, db_index=True, editable=False)
    kind = models.CharField(max_length=5, editable=False)
    size = models.PositiveIntegerField(editable=False)
    width = models.PositiveIntegerField(editable=False)
    height = models.PositiveIntegerField(editable=False)
    look = models.CharField(max_length=16, blank=True, editable=False)
    light = models.CharField(max_length=12, choices=Light.choices, default=Light.NORMAL)
    side = models.CharField(max_length=20, blank=True)
    angle_deg = models.FloatField(null=True, blank=True)
    words = models.CharField(max_length=300, blank=True)
    at = models.DateTimeField()
    who = models.ForeignKey(Maker, null=True, on_delete=models.PROTECT, related_name="+")
    ready = models.BooleanField(default=False)
    trouble = models.CharField(max_length=60, blank=True)
    copy_hashes = models.JSONField(default=dict, blank=True, editable=False)
    scale_points = models.JSONField(default=list, blank=True)
    scale_mm = models.JSONField(default=list, blank=True)

    class Meta:
        ordering = ("at", "id")
        constraints = (
            models.UniqueConstraint(fields=["visit_object", "sha256"], name="a_photograph_once_in_a_visit"),
        )
        indexes = (models.Index(fields=["object", "view", "at"], name="photographs_of_a_view"),)


class Shown(Record):
    """A mark that a photograph shows."""

    photograph = models.ForeignKey(Photograph, on_delete=models.PROTECT, related_name="shown")
    mark = models.ForeignKey(Mark, on_delete=models.PROTECT, related_name="shown")

    class Meta:
        constraints = (models.UniqueConstraint(fields=["photograph", "mark"], name="a_mark_shown_once"),)


class TouchedArea(Record):
    """An outline touched on a photograph, round a mark: its area by the photograph's scale.

    ``points`` as shares of width and height.
    """

    photograph = models.ForeignKey(Photograph, on_delete=models.PROTECT, related_name="areas")
    mark = models.ForeignKey(Mark, null=True, blank=True, on_delete=models.PROTECT, related_name="areas")
    points = models.JSONField()
    area_mm2 = models.FloatField()
    at = models.DateTimeField()
    who = models.ForeignKey(Maker, null=True, on_delete=models.PROTECT, related_name="+")

    class Meta:
        ordering = ("at", "id")


class Alignment(Record):
    """A later photograph laid over an earlier one: touched pairs of places, the homography found.

    ``homography`` leads shares of the earlier picture's width and height to those of the later one;
    ``rest_px`` is what is left between the touched places, ``refined`` whether the pictures themselves
    made it finer.
    """

    earlier = models.ForeignKey(Photograph, on_delete=models.PROTECT, related_name="later_over_it")
    later = models.ForeignKey(Photograph, on_delete=models.PROTECT, related_name="laid_over")
    points = models.JSONField()
    homography = models.JSONField()
    rest_px = models.FloatField()
    refined = models.BooleanField(default=False)
    at = models.DateTimeField()
    who = models.ForeignKey(Maker, null=True, on_delete=models.PROTECT, related_name="+")

    class Meta:
        ordering = ("-at", "id")
