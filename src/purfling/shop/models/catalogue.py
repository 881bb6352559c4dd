"""The shop's own catalogue: what differs from the catalogue of operations, prices, bench hours."""

from django.db import models

from purfling.shop.models.record import Record


class ShopOperation(Record):
    """The shop's own word on one operation; an empty field leaves the catalogue's.

    ``minutes`` maps a family to hands-on minutes. ``own`` is an operation that only this shop has (then
    ``of``,
    the names and the minutes are its own). ``price`` is on the wall. ``owner_only`` keeps it for the owner's
    hands, ``owner_only_word`` says why. ``off``: not done here.
    """

    class Of(models.TextChoices):
        INSTRUMENT = "instrument"
        BOW = "bow"

    code = models.CharField(max_length=40, unique=True)
    own = models.BooleanField(default=False)
    of = models.CharField(max_length=10, choices=Of.choices, blank=True)
    name_en = models.CharField(max_length=80, blank=True)
    name_de = models.CharField(max_length=80, blank=True)
    minutes = models.JSONField(default=dict, blank=True)
    wait_kind = models.CharField(max_length=8, blank=True)
    wait_minutes = models.PositiveIntegerField(null=True, blank=True)
    after = models.JSONField(default=list, blank=True)
    price = models.DecimalField(max_digits=10, decimal_places=2, null=True, blank=True)
    usual = models.BooleanField(null=True, blank=True)
    owner_only = models.BooleanField(default=False)
    owner_only_word = models.CharField(max_length=200, blank=True)
    off = models.BooleanField(default=False)

    class Meta:
        ordering = ("code",)


class ShopHours(Record):
    """When hands work: ``week`` as {"mon": [["09:00", "12:30"]]}, ``closed`` days, ``evenings`` [[from,
    to]]."""

    week = models.JSONField(default=dict, blank=True)
    closed = models.JSONField(default=list, blank=True)
    evenings = models.JSONField(default=list, blank=True)
