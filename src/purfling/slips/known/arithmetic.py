"""Tables of the bench arithmetic: swing, nut, string sets, post, pegs, bow room, season."""

from purfling.slips.fields import Field, Table

TABLES = (
    Table(
        "swing",
        (
            Field("bow_speed_m_s", unit="m/s", above=0, high=3),
            Field("bow_from_bridge_mm", unit="mm", low=2, high=150),
            Field("bow_angle_deg", unit="deg", above=0, high=90),
            Field("pluck_mm", unit="mm", above=0, high=15),
            Field("pluck_from_bridge_mm", unit="mm", low=1, high=300),
            Field("reserve_mm", unit="mm", low=0, high=1),
        ),
    ),
    Table(
        "strings",
        (
            Field("stated_tension_n", unit="N", low=5, high=500),
            Field("stated_length_mm", unit="mm", low=100, high=1300),
            Field("stated_pitch_hz", unit="Hz", low=10, high=2000),
            Field("axial_stiffness_n", unit="N", low=100, high=200000),
        ),
        many=True,
        wish=True,
    ),
    Table(
        "nut",
        (
            Field("bedding_mm", unit="mm", low=0, high=0.5),
            Field("groove_share", unit="1", low=0.1, high=1),
        ),
        wish=True,
    ),
    Table("tail", (Field("knot_mm", unit="mm", low=-10, high=10),), wish=True),
    Table(
        "post",
        (
            Field("top_across_deg", unit="deg", low=-30, high=30),
            Field("back_across_deg", unit="deg", low=-30, high=30),
            Field("top_along_deg", unit="deg", low=-30, high=30),
            Field("back_along_deg", unit="deg", low=-30, high=30),
        ),
        wish=True,
    ),
    Table(
        "fit",
        (
            Field("outward_mm", unit="mm", low=-20, high=20),
            Field("back_mm", unit="mm", low=-20, high=20),
            Field("length_mm", unit="mm", low=15, high=600),
        ),
        many=True,
    ),
    Table(
        "history",
        (
            Field("date", "text"),
            Field("humidity_percent", unit="%", low=5, high=100),
            Field("temperature_c", unit="C", low=-10, high=45),
            Field("projection_mm", unit="mm", low=5, high=300),
            Field("post_fit_mm", unit="mm", low=15, high=600),
        ),
        many=True,
    ),
    Table(
        "try",
        (
            Field("behind_mm", unit="mm", low=-5, high=25),
            Field("inside_mm", unit="mm", low=-10, high=15),
            Field("tightness", low=1, high=5),
            Field("maker", "text"),
            Field("player", "text"),
            Field("verdict", "choice", choices=("better", "same", "worse", "keep")),
        ),
        many=True,
    ),
    Table(
        "pegs",
        (
            Field("taper", unit="1", low=10, high=60),
            Field("wear_mm", "numbers", "mm", low=0, high=5),
            Field("hole_to_cheek_mm", "numbers", "mm", low=0, high=60),
            Field("bush_above_mm", unit="mm", low=5, high=30),
            Field("standout_least_mm", unit="mm", low=0, high=40),
            Field("cheek_least_mm", unit="mm", low=0, high=20),
            Field("wear_per_year_mm", unit="mm", above=0, high=2),
        ),
        wish=True,
    ),
    Table(
        "waist",
        (
            Field("half_width_mm", unit="mm", low=20, high=300),
            Field("edge_height_mm", unit="mm", low=-40, high=40),
        ),
    ),
    Table(
        "curve",
        (
            Field("spacing_mm", unit="mm", low=10, high=120),
            Field("height_mm", "numbers", "mm", low=1, high=300),
            Field("notch_depth_mm", unit="mm", low=0, high=2),
        ),
    ),
    Table(
        "kept_curve",
        (
            Field("spacing_mm", unit="mm", low=10, high=120),
            Field("height_mm", "numbers", "mm", low=1, high=300),
            Field("notch_depth_mm", unit="mm", low=0, high=2),
        ),
    ),
)
