"""Players: persons and schools."""

from django.db import models

from purfling.shop.models.record import Record, normalised


class Player(Record):
    """Who owns and plays: a person or a school. ``find`` is what the find box looks into."""

    SEALED = ("address", "email")
    PERSONAL = ("name", "first_name", "town", "address", "email", "phone", "note")

    class Kind(models.TextChoices):
        PERSON = "person"
        SCHOOL = "school"

    kind = models.CharField(max_length=8, choices=Kind.choices, default=Kind.PERSON)
    first_name = models.CharField(max_length=80, blank=True)
    name = models.CharField(max_length=120, blank=True)
    town = models.CharField(max_length=80, blank=True)
    phone = models.CharField(max_length=40, blank=True)
    email = models.CharField(max_length=120, blank=True)
    address = models.TextField(blank=True)
    language = models.CharField(max_length=5, blank=True)
    note = models.TextField(blank=True)
    forgotten_at = models.DateTimeField(null=True, blank=True, editable=False)
    find = models.CharField(max_length=400, blank=True, editable=False)

    class Meta:
        ordering = ("name", "first_name", "id")
        indexes = (models.Index(fields=["name", "first_name"], name="player_by_name"),)

    def save(self, *args, **kwargs) -> None:
        """Write the row with its find words."""
        self.find = normalised(self.first_name, self.name, self.town, self.phone)[:400]
        super().save(*args, **kwargs)

    @property
    def forgotten(self) -> bool:
        """Whether the person asked to be forgotten."""
        return self.forgotten_at is not None

    def __str__(self) -> str:
        return " ".join(t for t in (self.first_name, self.name) if t)
