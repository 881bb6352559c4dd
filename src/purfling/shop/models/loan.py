"""What the shop lent out: what, to whom, back when."""

from django.db import models

from purfling.shop.models.object import Object
from purfling.shop.models.player import Player
from purfling.shop.models.record import Record
from purfling.shop.models.visit import Visit


class Loan(Record):
    """A thing lent to a player while theirs is here."""

    PERSONAL = ("what",)

    visit = models.ForeignKey(Visit, on_delete=models.PROTECT, related_name="loans")
    player = models.ForeignKey(Player, on_delete=models.PROTECT, related_name="loans")
    object = models.ForeignKey(Object, null=True, blank=True, on_delete=models.PROTECT, related_name="loans")
    what = models.CharField(max_length=120)
    out_at = models.DateTimeField()
    back_at = models.DateTimeField(null=True, blank=True)
    returned_at = models.DateTimeField(null=True, blank=True, db_index=True)

    class Meta:
        ordering = ("back_at", "id")
