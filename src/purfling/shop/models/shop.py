"""The shop itself: one row."""

from django.db import models

from purfling.shop.models.record import Record


class Shop(Record):
    """Name, town and the shop's own settings; ``gauges`` maps a reading's key to the shop's gauge error.

    ``first_code`` is the hash of the one-time code of the first start, empty once the shop is claimed.
    """

    SEALED = ("address",)

    name = models.CharField(max_length=80, blank=True)
    town = models.CharField(max_length=80, blank=True)
    address = models.TextField(blank=True)
    currency = models.CharField(max_length=3, default="EUR")
    gauges = models.JSONField(default=dict, blank=True)
    first_code = models.CharField(max_length=200, blank=True, editable=False)
    first_tries = models.PositiveSmallIntegerField(default=0, editable=False)
    demo_seed = models.CharField(max_length=40, blank=True, editable=False)
