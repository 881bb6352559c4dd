"""The history of every record: who changed what, when, from what, to what. Only ever added to."""

from django.db import models

from purfling.shop.models.maker import Maker


class Change(models.Model):
    """One change of one record, written in the same transaction as the change itself.

    ``before`` and ``after`` hold the changed fields only; ``because`` is a word of reason where one was
    asked for.
    """

    what = models.CharField(max_length=40)
    record = models.UUIDField()
    version = models.PositiveIntegerField()
    at = models.DateTimeField()
    who = models.ForeignKey(Maker, null=True, on_delete=models.PROTECT, related_name="+")
    before = models.JSONField(default=dict)
    after = models.JSONField(default=dict)
    because = models.CharField(max_length=300, blank=True)

    class Meta:
        indexes = (models.Index(fields=["record", "version"], name="change_of_record"),)
        ordering = ("record", "version", "id")

    def save(self, *args, **kwargs) -> None:
        """Write a new line; a line that stands is never written again."""
        if self.pk is not None:
            raise TypeError("the history is only added to")
        super().save(*args, **kwargs)

    def delete(self, *args, **kwargs):
        """Refused: the history stays."""
        raise TypeError("the history is only added to")
