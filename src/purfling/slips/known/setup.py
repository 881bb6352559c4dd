"""Tables of the set-up: the card as found, and as wished under [wish.*]."""

from purfling.slips.fields import Field, Table

SPACING = ("centres", "gaps")

TABLES = (
    Table("slip", (Field("kind", "text"), Field("version", low=1, high=1))),
    Table(
        "body",
        (
            Field("family", "choice", choices=("violin", "viola", "cello")),
            Field("arch_mm", unit="mm"),
            Field("stop_mm", unit="mm"),
        ),
        wish=True,
    ),
    Table(
        "neck",
        (
            Field("string_length_mm", unit="mm"),
            Field("projection_mm", unit="mm"),
            Field("stop_mm", unit="mm"),
            Field("overstand_mm", unit="mm"),
            Field("board_slope_deg", unit="deg"),
        ),
        wish=True,
    ),
    Table(
        "board",
        (
            Field("length_mm", unit="mm"),
            Field("radius_nut_mm", unit="mm"),
            Field("radius_end_mm", unit="mm"),
            Field("scoop_low_mm", unit="mm"),
            Field("scoop_high_mm", unit="mm"),
            Field("width_nut_mm", unit="mm"),
            Field("width_end_mm", unit="mm"),
            Field("width_root_mm", unit="mm"),
            Field("edge_bass_mm", unit="mm"),
            Field("edge_treble_mm", unit="mm"),
            Field("edge_at_root_mm", unit="mm"),
            Field("flat_low_mm", unit="mm"),
        ),
        wish=True,
    ),
    Table(
        "profile",
        (
            Field("string", "text"),
            Field("station_mm", "numbers", "mm", low=0),
            Field("depth_mm", "numbers", "mm", low=-2, high=10),
        ),
        many=True,
    ),
    Table(
        "nut",
        (
            Field("spacing_mm", unit="mm"),
            Field("spacing", "choice", choices=SPACING),
            Field("clearance_mm", "numbers", "mm"),
            Field("datum", "choice", choices=("underside", "centre")),
        ),
        wish=True,
    ),
    Table(
        "end",
        (
            Field("clearance_mm", "numbers", "mm"),
            Field("datum", "choice", choices=("underside", "centre")),
            Field("direction", "choice", choices=("upright", "wedge")),
        ),
        wish=True,
    ),
    Table(
        "bridge",
        (
            Field("spacing_mm", unit="mm"),
            Field("spacing", "choice", choices=SPACING),
            Field("foot_span_mm", unit="mm"),
            Field("foot_length_mm", unit="mm"),
            Field("notch_depth_mm", unit="mm"),
        ),
        wish=True,
    ),
    Table("saddle", (Field("height_mm", unit="mm"), Field("distance_mm", unit="mm")), wish=True),
    Table(
        "strings",
        (
            Field("name", "text"),
            Field("pitch_hz", unit="Hz", low=10, high=2000),
            Field("tension_n", unit="N", low=5, high=500),
            Field("density_g_per_m", unit="g/m", low=0.05, high=60),
            Field("diameter_mm", unit="mm", low=0.1, high=4),
        ),
        many=True,
        wish=True,
    ),
    Table(
        "state",
        (
            Field("tension", "choice", choices=("strung", "slack")),
            Field("humidity_percent", unit="%"),
            Field("temperature_c", unit="C"),
        ),
        wish=True,
    ),
    Table(
        "gauge",
        (
            Field("projection_mm", unit="mm", low=0, high=5),
            Field("clearance_end_mm", unit="mm", low=0, high=2),
            Field("clearance_nut_mm", unit="mm", low=0, high=1),
            Field("length_mm", unit="mm", low=0, high=5),
            Field("radius_mm", unit="mm", low=0, high=10),
            Field("spacing_mm", unit="mm", low=0, high=2),
        ),
    ),
)
