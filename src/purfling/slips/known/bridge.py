"""Tables of the bridge as a computed object: outline, thickness, wood, feet, lean, mesh, cuts, what was
measured.

The readings of a standing bridge ([bridge]) belong to the set-up and the card.
"""

from purfling.slips.fields import Field, Table

MEASURES = (
    "foot_span_mm",
    "foot_length_mm",
    "foot_edge_mm",
    "ankle_mm",
    "ankle_height_mm",
    "arch_mm",
    "hip_width_mm",
    "hip_height_mm",
    "waist_mm",
    "waist_height_mm",
    "kidney_mm",
    "wing_width_mm",
    "heart_mm",
    "heart_tall_mm",
    "heart_height_mm",
    "crown_radius_mm",
    "crown_width_mm",
    "height_mm",
)

TABLES = (
    Table(
        "outline",
        (
            Field("family", "choice", choices=("violin", "viola", "cello")),
            Field("rings_file", "text"),
            *[Field(key, unit="mm", above=0, high=300) for key in MEASURES],
            Field("crown_tilt_mm", unit="mm", low=-30, high=30),
        ),
    ),
    Table(
        "thickness",
        (
            Field("foot_mm", unit="mm", above=0, high=40),
            Field("top_mm", unit="mm", above=0, high=40),
            Field("rule", "choice", choices=("edge", "height")),
            Field("front", "choice", choices=("flat", "curved")),
            Field("bulge_mm", unit="mm", low=0, high=5),
        ),
    ),
    Table(
        "station",
        (
            Field("height_mm", unit="mm", low=0, high=300),
            Field("thickness_mm", unit="mm", above=0, high=40),
        ),
        many=True,
    ),
    Table(
        "wood",
        (
            Field("preset", "choice", choices=("maple", "red maple")),
            Field("EL_MPa", unit="MPa"),
            Field("ER_MPa", unit="MPa"),
            Field("GLR_MPa", unit="MPa"),
            Field("nuLR"),
            Field("density_kg_m3", unit="kg/m3"),
            Field("grain_deg", unit="deg", low=-180, high=180),
        ),
    ),
    Table(
        "feet",
        (
            Field("clamped", "truth"),
            Field("stiffness_n_per_mm3", unit="N/mm3", above=0, high=1e7),
        ),
    ),
    Table(
        "lean",
        (
            Field("angle_deg", unit="deg", low=-20, high=20),
            Field("face", "choice", choices=("back", "centre")),
            Field("bend_mm", unit="mm", low=-10, high=10),
            Field("load_n", unit="N", above=0, high=5000),
            Field("creep", low=0, high=10),
        ),
    ),
    Table(
        "mesh",
        (
            Field("boundary_mm", unit="mm", low=0.1, high=5),
            Field("inside_mm", unit="mm", low=0.1, high=15),
        ),
    ),
    Table(
        "cut",
        (
            Field("place", "choice", choices=("waist", "ankles", "heart", "kidneys", "feet", "top")),
            Field("amount_mm", unit="mm", above=0, high=30),
            Field("name", "text"),
        ),
        many=True,
    ),
    Table(
        "measured",
        (
            Field("rocking_hz", unit="Hz", low=100, high=20000),
            Field("taps_hz", "numbers", "Hz", low=100, high=20000),
            Field("bouncing_hz", unit="Hz", low=100, high=40000),
            Field("added_mass_mg", unit="mg", above=0, high=20000),
            Field("loaded_hz", unit="Hz", low=20, high=20000),
            Field("mass_g", unit="g", above=0, high=200),
        ),
    ),
)
