"""Tables of a whole service: shop, player, instrument, promise, work list, print."""

from purfling.slips.fields import Field, Table

TABLES = (
    Table(
        "shop",
        (
            Field("bench_hours", "mixed"),
            Field("shop_hours", "mixed"),
            Field("closed", "texts"),
            Field("evenings", "mixed"),
        ),
    ),
    Table("visit", (Field("arrives", "moment"),)),
    Table("player", (Field("first_name", "text"),)),
    Table(
        "instrument",
        (
            Field("label", "text"),
            Field("tag", "text"),
            Field("class", "choice", choices=("working", "between", "conserve")),
        ),
    ),
    Table("promise", (Field("at", "moment"),)),
    Table(
        "work",
        (
            Field("id", "text"),
            Field("object", "text"),
            Field("name", "text"),
            Field("minutes", unit="min", above=0, high=6000),
            Field("after", "mixed"),
            Field("wait_min", unit="min", low=0, high=100000),
            Field("wait_max", unit="min", low=0, high=100000),
            Field("note", "text"),
        ),
        many=True,
    ),
    Table("template", (Field("bedding_mm", unit="mm", low=0, high=2),)),
)
