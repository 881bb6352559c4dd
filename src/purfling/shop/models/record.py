"""What every record of the book has: an id made where it was written, and a version."""

import uuid

from django.db import models


class Record(models.Model):
    """A record whose every change is kept (``domain.keeping.keep``).

    ``id`` may be made on the tablet; ``version`` counts the changes, so that a second writer is told.
    ``SEALED`` names the fields that only the owner sees: addresses, values, money.
    ``PERSONAL`` names what forgetting a person blanks, here and in the history.
    """

    SEALED: tuple[str, ...] = ()
    PERSONAL: tuple[str, ...] = ()

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    version = models.PositiveIntegerField(default=0, editable=False)

    class Meta:
        abstract = True


def normalised(*texts: str) -> str:
    """Texts as they are searched: lower case, without accents, one space between."""
    import unicodedata

    joined = " ".join(t for t in texts if t).casefold().replace("ß", "ss")
    plain = unicodedata.normalize("NFKD", joined)
    return " ".join("".join(c for c in plain if not unicodedata.combining(c)).split())
