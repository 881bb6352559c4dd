"""Cards: the readings of one moment, as found, wished or as left."""

from django.db import models

from purfling.shop.models.maker import Maker
from purfling.shop.models.object import Object
from purfling.shop.models.record import Record
from purfling.shop.models.visit import VisitObject


class Card(Record):
    """The set of readings of one moment, with its datum, direction and tension, fixed for the whole card.

    ``datums`` maps ``end.datum``, ``end.direction``, ``nut.datum``, ``bow.datum``, ``bow.hair``,
    ``bridge.spacing``, ``nut.spacing`` to the word chosen. ``strings`` is the set as a slip's [[strings]].
    ``unfinished`` is the figure that was being typed: {"key", "place", "text"}.
    """

    class Moment(models.TextChoices):
        FOUND = "found"
        WISHED = "wished"
        LEFT = "left"

    class Kind(models.TextChoices):
        REHAIR = "rehair"
        USUAL = "usual"
        FULL = "full"

    visit_object = models.ForeignKey(VisitObject, on_delete=models.PROTECT, related_name="cards")
    object = models.ForeignKey(Object, on_delete=models.PROTECT, related_name="cards")
    moment = models.CharField(max_length=6, choices=Moment.choices)
    kind = models.CharField(max_length=6, choices=Kind.choices)
    tension = models.CharField(max_length=6, default="strung")
    datums = models.JSONField(default=dict, blank=True)
    strings = models.JSONField(default=list, blank=True)
    strings_name = models.CharField(max_length=80, blank=True)
    at = models.DateTimeField()
    who = models.ForeignKey(Maker, null=True, on_delete=models.PROTECT, related_name="+")
    unfinished = models.JSONField(default=dict, blank=True)

    class Meta:
        ordering = ("at", "id")
        constraints = (
            models.UniqueConstraint(fields=["visit_object", "moment"], name="one_card_of_a_moment"),
        )


class Reading(Record):
    """One measured number: ``key`` as in readings.toml, ``place`` 0 for the lowest string or the only one.

    ``value`` is in the reading's own unit; ``entered`` is what was typed where that was another unit
    ("5/64 in"). ``error`` is one standard deviation of the shop's gauge at that time. ``same`` marks a
    figure that was taken over from the previous card by touch.
    """

    card = models.ForeignKey(Card, on_delete=models.PROTECT, related_name="readings")
    object = models.ForeignKey(Object, on_delete=models.PROTECT, related_name="readings")
    key = models.CharField(max_length=40)
    place = models.PositiveSmallIntegerField(default=0)
    value = models.FloatField()
    entered = models.CharField(max_length=40, blank=True)
    error = models.FloatField()
    same = models.BooleanField(default=False)
    at = models.DateTimeField()
    who = models.ForeignKey(Maker, null=True, on_delete=models.PROTECT, related_name="+")

    class Meta:
        ordering = ("at", "id")
        constraints = (
            models.UniqueConstraint(fields=["card", "key", "place"], name="one_figure_of_a_field"),
        )
