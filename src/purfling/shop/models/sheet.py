"""The printed bench sheet of a day, so that it comes back in the order in which it was printed."""

from django.db import models

from purfling.shop.models.maker import Maker
from purfling.shop.models.record import Record


class BenchSheet(Record):
    """``lines``: {"work", "kind" hands or look, "start", "end" (HH:MM), "minutes"} in the printed order."""

    day = models.DateField(unique=True)
    lines = models.JSONField(default=list)
    at = models.DateTimeField()
    who = models.ForeignKey(Maker, null=True, on_delete=models.PROTECT, related_name="+")
    back_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ("-day",)
