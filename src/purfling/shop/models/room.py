"""The room: humidity and temperature as typed or logged, and the shop's warning bands."""

from django.db import models

from purfling.shop.models.maker import Maker
from purfling.shop.models.record import Record


class RoomReading(Record):
    """One reading of the room; ``logged`` where a logger wrote it."""

    at = models.DateTimeField(db_index=True)
    room = models.CharField(max_length=40, blank=True)
    humidity_percent = models.FloatField(null=True, blank=True)
    temperature_c = models.FloatField(null=True, blank=True)
    logged = models.BooleanField(default=False)
    who = models.ForeignKey(Maker, null=True, on_delete=models.PROTECT, related_name="+")

    class Meta:
        ordering = ("at", "id")
        constraints = (models.UniqueConstraint(fields=["room", "at"], name="one_room_reading_of_a_moment"),)


class RoomBands(Record):
    """Where the shop wants to be warned; one row, empty ends warn of nothing."""

    humidity_low = models.FloatField(null=True, blank=True)
    humidity_high = models.FloatField(null=True, blank=True)
    temperature_low = models.FloatField(null=True, blank=True)
    temperature_high = models.FloatField(null=True, blank=True)
