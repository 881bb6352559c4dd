"""Tables of a whole visit, as the workshop's book writes it: what came, whose cards, every odd reading.

``[left.*]`` holds the card as left, as ``[wish.*]`` the wished one. ``[[reading]]`` carries figures that fit
no table: those of a card that asked for some strings only, and those of further keys.
"""

from purfling.slips.fields import Field, Table

CLASSES = ("working", "between", "conserve")
_IDENTITY = (
    Field("id", "text"),
    Field("label", "text"),
    Field("tag", "text"),
    Field("class", "choice", choices=CLASSES),
    Field("called", "text"),
    Field("size", "text"),
    Field("strings", "text"),
)

TABLES = (
    Table(
        "visit",
        (
            Field("number", low=1, high=10_000_000),
            Field("arrives", "moment"),
            Field("concert", "moment"),
            Field("handed_over", "moment"),
            Field("complaint", "text"),
            Field("question", "text"),
            Field("contents", "texts"),
        ),
    ),
    Table("instrument", _IDENTITY),
    Table("bow_identity", (*_IDENTITY, Field("family", "choice", choices=("violin", "viola", "cello")))),
    Table(
        "card_of",
        (
            Field("object", "choice", choices=("instrument", "bow")),
            Field("moment", "choice", choices=("found", "wished", "left")),
            Field("kind", "choice", choices=("rehair", "usual", "full")),
            Field("at", "moment"),
            Field("tension", "choice", choices=("strung", "slack")),
            Field("datums", "mixed"),
        ),
        many=True,
    ),
    Table(
        "reading",
        (
            Field("object", "choice", choices=("instrument", "bow")),
            Field("moment", "choice", choices=("found", "wished", "left")),
            Field("key", "text"),
            Field("place", low=0, high=10),
            Field("value"),
            Field("entered", "text"),
        ),
        many=True,
    ),
)
