"""Kept reckonings: one bench computation with its inputs and its answer, which never changes by itself."""

from django.db import models

from purfling.shop.models.maker import Maker
from purfling.shop.models.record import Record
from purfling.shop.models.visit import VisitObject


class Reckoning(Record):
    """``inputs`` is the slip it ran on, ``answer`` the whole envelope with status, sources and version."""

    visit_object = models.ForeignKey(VisitObject, on_delete=models.PROTECT, related_name="reckonings")
    name = models.CharField(max_length=30)
    inputs = models.JSONField()
    answer = models.JSONField()
    status = models.CharField(max_length=20)
    program = models.CharField(max_length=20)
    at = models.DateTimeField()
    who = models.ForeignKey(Maker, null=True, on_delete=models.PROTECT, related_name="+")
    word = models.CharField(max_length=300, blank=True)

    class Meta:
        ordering = ("-at",)
        indexes = (models.Index(fields=["visit_object", "name", "at"], name="kept_reckonings"),)
