"""Objects: instruments and bows, and who owned them when."""

from django.db import models

from purfling.shop.models.player import Player
from purfling.shop.models.record import Record, normalised


class Object(Record):
    """An instrument or a bow.

    Key dimensions [mm]: ``length_mm`` body (stick for a bow), ``upper_mm`` and ``lower_mm`` the bouts.
    ``treat_as`` is its class: working, between, conserve. ``materials`` is a list of {part, species}.
    """

    SEALED = ("declared_value",)

    class Kind(models.TextChoices):
        INSTRUMENT = "instrument"
        BOW = "bow"

    class Family(models.TextChoices):
        VIOLIN = "violin"
        VIOLA = "viola"
        CELLO = "cello"

    class TreatAs(models.TextChoices):
        WORKING = "working"
        BETWEEN = "between"
        CONSERVE = "conserve"

    class Back(models.TextChoices):
        ONE = "one"
        TWO = "two"

    kind = models.CharField(max_length=10, choices=Kind.choices, default=Kind.INSTRUMENT)
    family = models.CharField(max_length=6, choices=Family.choices, default=Family.VIOLIN)
    size = models.CharField(max_length=12, blank=True, default="4/4")
    owner = models.ForeignKey(Player, null=True, blank=True, on_delete=models.PROTECT, related_name="things")
    nickname = models.CharField(max_length=60, blank=True)
    asset = models.CharField(max_length=30, blank=True)
    school_stated = models.CharField(max_length=120, blank=True)
    school_ours = models.CharField(max_length=120, blank=True)
    age_stated = models.CharField(max_length=60, blank=True)
    age_ours = models.CharField(max_length=60, blank=True)
    label = models.TextField(blank=True)
    back = models.CharField(max_length=4, choices=Back.choices, blank=True)
    length_mm = models.FloatField(null=True, blank=True)
    upper_mm = models.FloatField(null=True, blank=True)
    lower_mm = models.FloatField(null=True, blank=True)
    treat_as = models.CharField(max_length=8, choices=TreatAs.choices, default=TreatAs.WORKING)
    materials = models.JSONField(default=list, blank=True)
    last_service_by = models.CharField(max_length=120, blank=True)
    declared_value = models.DecimalField(max_digits=12, decimal_places=2, null=True, blank=True)
    note = models.TextField(blank=True)
    find = models.CharField(max_length=600, blank=True, editable=False)

    class Meta:
        ordering = ("family", "kind", "nickname", "id")

    def save(self, *args, **kwargs) -> None:
        """Write the row with its find words."""
        self.find = normalised(
            self.family,
            self.kind,
            self.nickname,
            self.asset,
            self.label,
            self.school_stated,
            self.school_ours,
        )[:600]
        super().save(*args, **kwargs)

    @property
    def is_bow(self) -> bool:
        """A bow, not an instrument."""
        return self.kind == self.Kind.BOW


class Ownership(Record):
    """One owner of an object for a stretch of time; ``until`` is empty for the owner of today."""

    object = models.ForeignKey(Object, on_delete=models.PROTECT, related_name="ownerships")
    player = models.ForeignKey(Player, on_delete=models.PROTECT, related_name="ownerships")
    since = models.DateTimeField()
    until = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ("-since",)
