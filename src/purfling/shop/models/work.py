"""The work list of a visit: operations, each on ONE object, their stretches of hands and their looks."""

from django.db import models

from purfling.shop.models.maker import Maker
from purfling.shop.models.record import Record
from purfling.shop.models.visit import VisitObject


class Work(Record):
    """One operation on one object.

    ``minutes`` and ``wait_minutes`` are what was planned when it was put on the list. ``spent_s`` counts
    finished
    stretches; ``since`` is when the hands took it up, empty while it is not in hand. ``finished_at``: the
    hands
    are done and the wait begins; ``look_at``: somebody should look; ``looked_at``: found dry or set.
    ``stops``
    maps a step's number to {"who", "at", "word"}. ``recipe`` names what was laid on.
    """

    class State(models.TextChoices):
        LISTED = "listed"
        ASKED = "asked"
        HAND = "hand"
        DOWN = "down"
        WAITING = "waiting"
        DONE = "done"
        STRUCK = "struck"

    OPEN = (State.LISTED, State.ASKED, State.HAND, State.DOWN, State.WAITING)

    visit_object = models.ForeignKey(VisitObject, on_delete=models.PROTECT, related_name="work")
    code = models.CharField(max_length=40)
    place = models.FloatField()
    state = models.CharField(max_length=8, choices=State.choices, default=State.LISTED)
    minutes = models.PositiveIntegerField()
    wait_kind = models.CharField(max_length=8, blank=True)
    wait_minutes = models.PositiveIntegerField(default=0)
    price = models.DecimalField(max_digits=10, decimal_places=2, null=True, blank=True)
    note = models.CharField(max_length=300, blank=True)
    recipe = models.CharField(max_length=80, blank=True)
    found = models.BooleanField(default=False)
    yes = models.CharField(max_length=300, blank=True)
    yes_at = models.DateTimeField(null=True, blank=True)
    overruled = models.CharField(max_length=300, blank=True)
    overruled_by = models.ForeignKey(Maker, null=True, on_delete=models.PROTECT, related_name="+")
    hands = models.ForeignKey(Maker, null=True, on_delete=models.PROTECT, related_name="+")
    since = models.DateTimeField(null=True, blank=True)
    started_at = models.DateTimeField(null=True, blank=True)
    spent_s = models.PositiveIntegerField(default=0)
    finished_at = models.DateTimeField(null=True, blank=True)
    look_at = models.DateTimeField(null=True, blank=True)
    looked_at = models.DateTimeField(null=True, blank=True)
    stops = models.JSONField(default=dict, blank=True)
    later = models.BooleanField(default=False)

    class Meta:
        ordering = ("visit_object", "place", "id")
        indexes = (
            models.Index(
                fields=["state"], name="open_work", condition=~models.Q(state__in=("done", "struck"))
            ),
            models.Index(fields=["code", "state"], name="work_log"),
        )

    @property
    def is_open(self) -> bool:
        """Not done and looked at, not struck."""
        return self.state in self.OPEN


class Stretch(Record):
    """Hands on one operation from one moment to another; ``later``: written down afterwards."""

    work = models.ForeignKey(Work, on_delete=models.PROTECT, related_name="stretches")
    who = models.ForeignKey(Maker, null=True, on_delete=models.PROTECT, related_name="+")
    begin = models.DateTimeField()
    end = models.DateTimeField()
    later = models.BooleanField(default=False)

    class Meta:
        ordering = ("begin", "id")


class Look(Record):
    """Somebody looked at what dries, sets or settles: dry, or again at ``again_at``."""

    work = models.ForeignKey(Work, on_delete=models.PROTECT, related_name="looks")
    who = models.ForeignKey(Maker, null=True, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField()
    dry = models.BooleanField()
    again_at = models.DateTimeField(null=True, blank=True)
    word = models.CharField(max_length=200, blank=True)
    later = models.BooleanField(default=False)

    class Meta:
        ordering = ("at", "id")
