"""Materials: what may touch a varnish, in lots; and the shop's recipes."""

from django.db import models

from purfling.shop.models.record import Record


class Material(Record):
    """A thing out of a bottle, a tin or a packet.

    ``kinds`` as in craft/tables/meets.toml; ``solvent`` a key of the table of solvents, or ``fractions``
    [dispersion, polar, hydrogen] of the shop's own. ``hazards`` are the marks on its label, ``sheet_on`` the
    date of its safety sheet.
    """

    name = models.CharField(max_length=80, unique=True)
    kinds = models.JSONField(default=list)
    solvent = models.CharField(max_length=30, blank=True)
    fractions = models.JSONField(default=list, blank=True)
    hazards = models.JSONField(default=list, blank=True)
    sheet_on = models.DateField(null=True, blank=True)
    note = models.TextField(blank=True)
    off = models.BooleanField(default=False)

    class Meta:
        ordering = ("name",)

    def __str__(self) -> str:
        return self.name


class Lot(Record):
    """One bottle of a material: its number, when it was opened, when it was used up."""

    material = models.ForeignKey(Material, on_delete=models.PROTECT, related_name="lots")
    number = models.CharField(max_length=60)
    opened_on = models.DateField(null=True, blank=True)
    used_up_on = models.DateField(null=True, blank=True)
    note = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ("material", "-opened_on", "number")
        constraints = (models.UniqueConstraint(fields=["material", "number"], name="a_lot_once"),)

    def __str__(self) -> str:
        return self.number


class Recipe(Record):
    """What is laid on: ``parts`` one a line, ``hours`` the shop's stated times until it bears hands, cloth,
    chinrest, case; ``soluble_in`` the kinds of material that take it off again."""

    name = models.CharField(max_length=80, unique=True)
    kind = models.CharField(max_length=10)
    parts = models.JSONField(default=list)
    colour = models.CharField(max_length=120, blank=True)
    soluble_in = models.JSONField(default=list, blank=True)
    hours = models.JSONField(default=dict, blank=True)
    note = models.TextField(blank=True)
    off = models.BooleanField(default=False)

    class Meta:
        ordering = ("name",)

    def __str__(self) -> str:
        return self.name
