"""Visits: one stay in the shop, from arrival to hand-over; it may hold several objects."""

from django.db import models

from purfling.shop.models.object import Object
from purfling.shop.models.player import Player
from purfling.shop.models.record import Record


class Visit(Record):
    """One stay. ``number`` is the shop's own running number, the N of the command line.

    ``comes_at`` is when the player is expected, ``arrived_at`` when the things came in, ``closed_at`` when
    they went out again. ``contents`` lists what lay in the case.
    """

    SEALED = ("approval_limit",)
    PERSONAL = ("complaint", "question")

    number = models.PositiveIntegerField(unique=True, editable=False)
    player = models.ForeignKey(Player, on_delete=models.PROTECT, related_name="visits")
    comes_at = models.DateTimeField(null=True, blank=True, db_index=True)
    arrived_at = models.DateTimeField(null=True, blank=True)
    closed_at = models.DateTimeField(null=True, blank=True, db_index=True)
    complaint = models.TextField(blank=True)
    contents = models.JSONField(default=list, blank=True)
    concert_at = models.DateTimeField(null=True, blank=True)
    promise_at = models.DateTimeField(null=True, blank=True)
    approval_limit = models.DecimalField(max_digits=10, decimal_places=2, null=True, blank=True)
    question = models.TextField(blank=True)

    class Meta:
        ordering = ("-number",)

    @property
    def is_open(self) -> bool:
        """Not yet handed over."""
        return self.closed_at is None


class VisitObject(Record):
    """One object in one visit: its numbered tag and where it is now.

    ``strings_off_at`` is when the tension was let off, ``strings_off_word`` the word given where readings at
    pitch were passed over.
    """

    class Whereabouts(models.TextChoices):
        BOOKED = "booked"
        RACK = "rack"
        BENCH = "bench"
        HANGING = "hanging"
        CLAMPED = "clamped"
        SETTLING = "settling"
        READY = "ready"
        LENT_OUT = "lent_out"
        GONE_HOME = "gone_home"

    visit = models.ForeignKey(Visit, on_delete=models.PROTECT, related_name="rows")
    object = models.ForeignKey(Object, on_delete=models.PROTECT, related_name="visits")
    tag = models.CharField(max_length=12, blank=True, db_index=True)
    whereabouts = models.CharField(max_length=10, choices=Whereabouts.choices, default=Whereabouts.BOOKED)
    place = models.CharField(max_length=60, blank=True)
    strings_off_at = models.DateTimeField(null=True, blank=True)
    strings_off_word = models.CharField(max_length=300, blank=True)

    class Meta:
        ordering = ("visit", "tag", "id")
        constraints = (models.UniqueConstraint(fields=["visit", "object"], name="an_object_once_in_a_visit"),)
        indexes = (
            models.Index(
                fields=["whereabouts"],
                name="in_the_house",
                condition=~models.Q(whereabouts="gone_home"),
            ),
        )
