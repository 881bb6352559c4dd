"""The varnish log of an object: spot tests, what touched it, what was laid on, what is closed."""

from django.db import models

from purfling.shop.models.maker import Maker
from purfling.shop.models.material import Lot, Material, Recipe
from purfling.shop.models.object import Object
from purfling.shop.models.record import Record
from purfling.shop.models.visit import VisitObject


class Placed(Record):
    """Something at a place of an object: ``view`` with ``x`` (from its left) and ``y`` (up) as shares of its
    box, and words; ``mark`` is the id of a mark on the chart that it belongs to."""

    view = models.CharField(max_length=16, blank=True)
    x = models.FloatField(null=True, blank=True)
    y = models.FloatField(null=True, blank=True)
    place = models.CharField(max_length=120, blank=True)
    mark = models.UUIDField(null=True, blank=True)
    at = models.DateTimeField()
    who = models.ForeignKey(Maker, null=True, on_delete=models.PROTECT, related_name="+")

    class Meta:
        abstract = True


class SpotTest(Placed):
    """One spot test. ``kinds`` is what was on the swab; ``mixture`` [[solvent, volume], ...] by the table.

    ``picture`` is the SHA-256 of its photograph. ``follows`` is what the test means for this varnish.
    """

    class Result(models.TextChoices):
        NOTHING = "nothing"
        DULLED = "dulled"
        SOFTENED = "softened"
        COLOUR = "colour"
        DISSOLVED = "dissolved"

    class Follows(models.TextChoices):
        CARE = "care"
        TEST = "test"
        FORBIDDEN = "forbidden"

    object = models.ForeignKey(Object, on_delete=models.PROTECT, related_name="spot_tests")
    visit_object = models.ForeignKey(
        VisitObject, null=True, on_delete=models.PROTECT, related_name="spot_tests"
    )
    material = models.ForeignKey(Material, null=True, blank=True, on_delete=models.PROTECT, related_name="+")
    lot = models.ForeignKey(Lot, null=True, blank=True, on_delete=models.PROTECT, related_name="+")
    what = models.CharField(max_length=120)
    kinds = models.JSONField(default=list)
    mixture = models.JSONField(default=list, blank=True)
    dwell_s = models.PositiveIntegerField(null=True, blank=True)
    swab = models.CharField(max_length=8, blank=True)
    result = models.CharField(max_length=10, choices=Result.choices)
    follows = models.CharField(max_length=10, choices=Follows.choices)
    shield = models.CharField(max_length=120, blank=True)
    picture = models.CharField(max_length=64, blank=True, editable=False)
    note = models.TextField(blank=True)

    class Meta:
        ordering = ("-at", "id")


class VarnishLine(Placed):
    """One line of the log: cleaning, coat, retouch, rubbing down, polish or wax.

    ``made_of`` is the recipe's parts as they were that day. ``building`` tells a polish that stays from one
    that comes off again. ``left`` says what was left on. ``shield`` is what kept spirit away.
    """

    class Task(models.TextChoices):
        CLEAN = "clean"
        COAT = "coat"
        RETOUCH = "retouch"
        RUB = "rub"
        POLISH = "polish"
        WAX = "wax"

    DRIES = (Task.COAT, Task.RETOUCH, Task.POLISH)

    object = models.ForeignKey(Object, on_delete=models.PROTECT, related_name="varnish_lines")
    visit_object = models.ForeignKey(
        VisitObject, null=True, on_delete=models.PROTECT, related_name="varnish_lines"
    )
    task = models.CharField(max_length=8, choices=Task.choices)
    recipe = models.ForeignKey(Recipe, null=True, blank=True, on_delete=models.PROTECT, related_name="lines")
    made_of = models.JSONField(default=list, blank=True)
    batch = models.CharField(max_length=60, blank=True)
    coat = models.PositiveSmallIntegerField(null=True, blank=True)
    what = models.CharField(max_length=160, blank=True)
    mixture = models.JSONField(default=list, blank=True)
    ph = models.FloatField(null=True, blank=True)
    conductivity_us_cm = models.FloatField(null=True, blank=True)
    grit = models.PositiveIntegerField(null=True, blank=True)
    swabs = models.PositiveIntegerField(null=True, blank=True)
    area = models.CharField(max_length=120, blank=True)
    left = models.CharField(max_length=200, blank=True)
    building = models.BooleanField(null=True, blank=True)
    humidity_percent = models.FloatField(null=True, blank=True)
    temperature_c = models.FloatField(null=True, blank=True)
    cabinet_min = models.PositiveIntegerField(null=True, blank=True)
    shield = models.CharField(max_length=120, blank=True)
    note = models.TextField(blank=True)

    class Meta:
        ordering = ("-at", "id")
        indexes = (models.Index(fields=["recipe", "at"], name="coats_of_a_recipe"),)

    @property
    def dries(self) -> bool:
        """Something that a finger has to find dry."""
        return self.task in self.DRIES


class Used(Record):
    """A material that went into a line of the log, with its lot where it is known."""

    line = models.ForeignKey(VarnishLine, on_delete=models.PROTECT, related_name="used")
    material = models.ForeignKey(Material, on_delete=models.PROTECT, related_name="used")
    lot = models.ForeignKey(Lot, null=True, blank=True, on_delete=models.PROTECT, related_name="used")

    class Meta:
        ordering = ("line", "id")


class FingerLook(Record):
    """A finger on a coat: still tacky, or what it bears from now on."""

    class Bears(models.TextChoices):
        TACKY = "tacky"
        HANDS = "hands"
        CLOTH = "cloth"
        CHINREST = "chinrest"
        CASE = "case"

    line = models.ForeignKey(VarnishLine, on_delete=models.PROTECT, related_name="looks")
    bears = models.CharField(max_length=8, choices=Bears.choices)
    again_at = models.DateTimeField(null=True, blank=True)
    at = models.DateTimeField()
    who = models.ForeignKey(Maker, null=True, on_delete=models.PROTECT, related_name="+")

    class Meta:
        ordering = ("at", "id")


class ClosedPlace(Placed):
    """Do not touch: a place or the whole object, closed by the owner for some tasks or all, with a reason."""

    object = models.ForeignKey(Object, on_delete=models.PROTECT, related_name="closed_places")
    whole = models.BooleanField(default=False)
    tasks = models.JSONField(default=list, blank=True)
    reason = models.CharField(max_length=300)
    lifted_at = models.DateTimeField(null=True, blank=True)
    lifted_by = models.ForeignKey(Maker, null=True, on_delete=models.PROTECT, related_name="+")
    lifted_word = models.CharField(max_length=300, blank=True)

    class Meta:
        ordering = ("-at", "id")


class StopMet(Record):
    """Somebody met a stop: turned back, or (the owner, with a word) went on."""

    object = models.ForeignKey(Object, on_delete=models.PROTECT, related_name="stops_met")
    doing = models.CharField(max_length=160)
    task = models.CharField(max_length=8, blank=True)
    material = models.ForeignKey(Material, null=True, on_delete=models.PROTECT, related_name="+")
    reasons = models.JSONField(default=list)
    overruled = models.BooleanField(default=False)
    word = models.CharField(max_length=300, blank=True)
    at = models.DateTimeField()
    who = models.ForeignKey(Maker, null=True, on_delete=models.PROTECT, related_name="+")

    class Meta:
        ordering = ("-at", "id")
