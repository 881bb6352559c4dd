"""Tables of the bow bench: bow, parts, changes, stick, camber, hair, lapping."""

from purfling.slips.fields import Field, Table

DATUMS = ("frog_front", "stick_end", "button", "ferrule")
PARTS = ("lapping", "leather", "hair", "tip_plate", "frog", "button", "other")

_HANDLE = (
    Field("handle_mm", unit="mm", low=4, high=15),
    Field("handle_end_mm", unit="mm", low=4, high=15),
    Field("octagonal", "truth"),
)
_WIRE = (
    Field("wire_mm", "mixed", unit="mm"),
    Field("width_mm", unit="mm", above=0, high=10),
    Field("length_mm", unit="mm", low=5, high=300),
    Field("material", "text"),
    Field("density_kg_m3", unit="kg/m3", low=300, high=23000),
    Field("g_per_m", unit="g/m", above=0, high=20),
)

TABLES = (
    Table(
        "bow",
        (
            Field("mass_g", unit="g"),
            Field("balance_mm", unit="mm", low=50, high=450),
            Field("datum", "choice", choices=DATUMS),
            Field("hair", "choice", choices=("tight", "slack")),
            Field("frog_length_mm", unit="mm", low=20, high=120),
            Field("button_length_mm", unit="mm", low=0, high=40),
            Field("stick_length_mm", unit="mm", low=300, high=900),
            Field("ferrule_ahead_mm", unit="mm", low=-20, high=20),
            Field("hand_mm", unit="mm", low=0, high=200),
            Field("head_lever_mm", unit="mm", low=5, high=50),
            Field("frog_lever_mm", unit="mm", low=5, high=50),
            Field("gap_mm", unit="mm"),
            Field("frog_material", "text"),
        ),
        wish=True,
    ),
    Table(
        "part",
        (
            Field("name", "text"),
            Field("mass_g", unit="g", low=0, high=200),
            Field("at_mm", unit="mm", low=-50, high=900),
            Field("length_mm", unit="mm", low=0, high=900),
        ),
        many=True,
    ),
    Table(
        "change",
        (
            Field("part", "choice", choices=PARTS),
            Field("mass_g", unit="g", low=-100, high=100),
            Field("at_mm", unit="mm", low=-50, high=900),
            Field("from_mm", unit="mm", low=0, high=500),
            *_WIRE,
            *_HANDLE,
        ),
        many=True,
    ),
    Table(
        "stick",
        (
            Field("at_mm", unit="mm", low=0, high=900),
            Field("diameter_mm", unit="mm", low=2, high=16),
            Field("earlier_diameter_mm", unit="mm", low=2, high=16),
        ),
        many=True,
    ),
    Table(
        "stick_wood",
        (
            Field("density_kg_m3", unit="kg/m3", low=300, high=2000),
            Field("section", "choice", choices=("round", "octagonal")),
            Field("modulus_gpa", unit="GPa", low=3, high=200),
            Field("sound_speed_m_s", unit="m/s", low=2000, high=9000),
            Field("species", "text"),
        ),
    ),
    Table(
        "deflection",
        (
            Field("supports_mm", "numbers", "mm", low=0, high=900),
            Field("load_at_mm", unit="mm", low=0, high=900),
            Field("load_n", unit="N", low=0.1, high=100),
            Field("deflection_mm", unit="mm", low=0.01, high=100),
            Field("rig", "text"),
        ),
    ),
    Table(
        "camber",
        (
            Field("at_mm", "numbers", "mm", low=0, high=900),
            Field("height_mm", "numbers", "mm", low=-50, high=60),
        ),
        wish=True,
    ),
    Table(
        "hair",
        (
            Field("tied", "choice", choices=("wet", "dry")),
            Field("length_mm", unit="mm", low=300, high=900),
            Field("width_mm", unit="mm"),
            Field("humidity_percent", unit="%", low=1, high=100),
            Field("driest_percent", unit="%", low=1, high=100),
            Field("dampest_percent", unit="%", low=1, high=100),
            Field("coefficient", unit="1", above=0, high=0.1),
            Field("hair_mass_g", unit="g"),
            Field("count", low=20, high=600),
            Field("diameter_mm", unit="mm", low=0.05, high=0.5),
            Field("frog_travel_mm", unit="mm"),
            Field("eye_place_mm", unit="mm"),
            Field("slot_mm", unit="mm", low=0, high=60),
            Field("tension_n", unit="N", low=1, high=150),
            Field("hair_date", "mixed"),
            Field("read_on", "mixed"),
            Field("hours_per_week", unit="h", low=0, high=100),
            Field("origin", "text"),
        ),
        wish=True,
    ),
    Table(
        "lapping",
        (
            *_WIRE,
            *_HANDLE,
            Field("from_mm", unit="mm", low=0, high=500),
            Field("mass_g", unit="g", above=0, high=50),
            Field("tails_mm", unit="mm", low=0, high=2000),
            Field("sheet_mm", unit="mm", above=0, high=1),
            Field("leather_from_mm", unit="mm", low=0, high=500),
            Field("leather_length_mm", unit="mm", low=5, high=100),
            Field("hollow_at_mm", unit="mm", low=0, high=500),
            Field("hollow_length_mm", unit="mm", low=2, high=60),
        ),
        wish=True,
    ),
    Table(
        "two_scales",
        (
            Field("near_mm", unit="mm", low=-50, high=400),
            Field("span_mm", unit="mm", low=100, high=900),
            Field("near_g", unit="g", low=0, high=200),
            Field("far_g", unit="g", low=0, high=200),
        ),
    ),
    Table(
        "pendulum",
        (
            Field("period_s", unit="s", low=0.2, high=5),
            Field("pivot_mm", unit="mm", low=-50, high=900),
        ),
    ),
)
