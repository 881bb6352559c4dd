"""The hand-over: what went out, to whom, with which words."""

from django.db import models

from purfling.shop.models.maker import Maker
from purfling.shop.models.record import Record
from purfling.shop.models.visit import Visit


class HandOver(Record):
    """``contents`` pairs each thing of the arrival list with whether it was there and a word; ``tags`` the
    tag
    read off each object; ``words`` maps what was passed over to the word of reason.
    """

    PERSONAL = ("player_words", "question", "answer", "collector")

    visit = models.OneToOneField(Visit, on_delete=models.PROTECT, related_name="hand_over")
    at = models.DateTimeField()
    who = models.ForeignKey(Maker, null=True, on_delete=models.PROTECT, related_name="+")
    collector = models.CharField(max_length=120, blank=True)
    contents = models.JSONField(default=list, blank=True)
    tags = models.JSONField(default=dict, blank=True)
    player_words = models.TextField(blank=True)
    question = models.TextField(blank=True)
    asked = models.BooleanField(default=False)
    answer = models.TextField(blank=True)
    second_look_at = models.DateField(null=True, blank=True)
    words = models.JSONField(default=dict, blank=True)
