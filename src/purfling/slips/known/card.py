"""The readings of a card that the set-up does not need: bridge, tail, post, pegs."""

from purfling.slips.fields import Field, Table

TABLES = (
    Table(
        "bridge",
        (
            Field("height_low_mm", unit="mm"),
            Field("height_centre_mm", unit="mm"),
            Field("height_high_mm", unit="mm"),
            Field("top_mm", unit="mm"),
            Field("foot_mm", unit="mm"),
            Field("lean_deg", unit="deg"),
            Field("bend_mm", unit="mm"),
            Field("mass_g", unit="g"),
        ),
        wish=True,
    ),
    Table("tail", (Field("afterlength_mm", unit="mm"), Field("gap_mm", unit="mm")), wish=True),
    Table(
        "post",
        (
            Field("behind_mm", unit="mm"),
            Field("inside_mm", unit="mm"),
            Field("tilt_deg", unit="deg"),
            Field("tightness"),
            Field("length_mm", unit="mm"),
            Field("diameter_mm", unit="mm"),
        ),
        wish=True,
    ),
    Table(
        "pegs",
        (Field("diameter_mm", "numbers", "mm"), Field("standout_mm", "numbers", "mm")),
        wish=True,
    ),
)
