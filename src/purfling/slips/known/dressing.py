"""Tables of dressing the fingerboard: the board as measured, its edges, what is wished, what was asked."""

from purfling.slips.fields import Field, Table

DEEPEST = 12.0  # mm; the family's own limit is looked at when the gaps are taken

_EDGE = (
    Field("string", "text"),
    Field("station_mm", "numbers", "mm", low=0, high=1000),
    Field("gap_mm", "numbers", "mm", low=0, high=DEEPEST),
    Field("rocks_mm", unit="mm", low=0, high=5),
)

TABLES = (
    Table("line", _EDGE, many=True),
    Table("after", _EDGE, many=True),
    Table(
        "across",
        (
            Field("station_mm", unit="mm", low=0, high=1000),
            Field("radius_mm", unit="mm", low=12, high=250),
            Field("rocks_mm", unit="mm", low=0, high=3),
        ),
        many=True,
    ),
    Table(
        "pit",
        (
            Field("station_mm", unit="mm", low=0, high=1000),
            Field("line", "text"),
            Field("depth_mm", unit="mm", low=0, high=DEEPEST),
            Field("line_mm", unit="mm", low=-60, high=60),
            Field("height_mm", unit="mm", low=-60, high=5),
        ),
        many=True,
    ),
    Table(
        "grid",
        (
            Field("station_mm", "numbers", "mm", low=0, high=1000),
            Field("line_mm", "mixed", "mm"),
            Field("height_mm", "grid", "mm", low=-60, high=10, nan=True),
            Field("csv", "text"),
        ),
    ),
    Table(
        "edge",
        (
            Field("bass_mm", unit="mm", low=0.5, high=40),
            Field("treble_mm", unit="mm", low=0.5, high=40),
            Field("least_mm", unit="mm", low=-40, high=40),
        ),
    ),
    Table(
        "wish",
        (
            Field("scoop_low_mm", "band", "mm", low=0, high=20),
            Field("scoop_high_mm", "band", "mm", low=0, high=20),
            Field("radius_nut_mm", "band", "mm", low=12, high=250),
            Field("radius_end_mm", "band", "mm", low=12, high=250),
            Field("projection_loss_max_mm", unit="mm", low=0, high=40),
            Field("leave_mm", unit="mm", low=0, high=3),
        ),
    ),
    Table("weights", (Field("max", low=0, high=1000), Field("mean", low=0, high=1000))),
    Table(
        "asked", (Field("neck_straight", "truth"), Field("board_sound", "truth"), Field("blackened", "truth"))
    ),
    Table(
        "swing",
        (
            Field("bow_speed_m_s", unit="m/s", low=0.05, high=3),
            Field("bow_from_bridge_mm", unit="mm", low=2, high=150),
            Field("bow_angle_deg", unit="deg", low=0.5, high=90),
        ),
    ),
    Table("gauge", (Field("gap_mm", unit="mm", low=0, high=1), Field("height_mm", unit="mm", low=0, high=1))),
)
