"""A whole bow, re-lapped, against a hand computation that uses nothing of the program."""

import math
import tomllib
from pathlib import Path

import pytest

from purfling.reckonings.bow.compute import compute
from purfling.slips.reader import check_slip

WHOLE = """
[bow]
mass_g = 60.0
balance_mm = 190.0
datum = "frog_front"
hair = "tight"
frog_length_mm = 48.0
button_length_mm = 13.0
[[part]]
name = "lapping"
mass_g = 2.5
at_mm = 112.0
[[change]]
part = "lapping"
wire_mm = 0.30
length_mm = 75.0
material = "silver"
from_mm = 75.0
handle_mm = 8.6
handle_end_mm = 8.4
[[change]]
part = "leather"
mass_g = -0.3
at_mm = 62.0
[[change]]
part = "tip_plate"
mass_g = 0.6
at_mm = 705.0
"""


def test_relapped_to_0_05_g_and_0_3_mm() -> None:
    # By hand: 250 turns of 0.30 silver (10.49 g/cm3) over a mean of 8.5.
    turns = 75 / 0.30
    wire = turns * math.sqrt((math.pi * (8.5 + 0.30)) ** 2 + 0.30**2)
    silver = wire * math.pi * 0.30**2 / 4 * 10.49e-3
    moment = 60.0 * (190 + 48) - 2.5 * 112 + silver * (75 + 37.5) - 0.3 * 62 + 0.6 * 705
    mass = 60.0 - 2.5 + silver - 0.3 + 0.6
    change = compute(check_slip(tomllib.loads(WHOLE))).answer.results["change"]
    assert change["mass_g"] == pytest.approx(mass, abs=0.05)
    assert change["balance_mm"]["stick_end"] == pytest.approx(moment / mass, abs=0.3)
    assert change["balance_mm"]["frog_front"] == pytest.approx(moment / mass - 48, abs=0.3)
    assert change["balance_mm"]["button"] == pytest.approx(moment / mass + 13, abs=0.3)
    assert change["balance_difference_mm"] == pytest.approx(moment / mass - 238, abs=0.01)


def test_silver_to_whalebone_by_hand() -> None:
    # 60.0 g, balance 190 from the frog's front; silver 4.9 g becomes 2.5 g, centred 62
    # from the front: 57.6 g, 195.3.
    slip = {
        "bow": {
            "mass_g": 60.0,
            "balance_mm": 190.0,
            "datum": "frog_front",
            "hair": "tight",
            "frog_length_mm": 50.0,
        },
        "change": [{"part": "lapping", "mass_g": -2.4, "at_mm": 112.0}],
    }
    change = compute(check_slip(slip)).answer.results["change"]
    assert change["mass_g"] == pytest.approx(57.6)
    assert change["balance_mm"]["frog_front"] == pytest.approx(195.3, abs=0.05)
    assert change["balance_mm"]["button"] is None


@pytest.mark.parametrize(
    ("datum", "reading"), [("frog_front", 190.0), ("stick_end", 238.0), ("button", 251.0), ("ferrule", 187.0)]
)
def test_every_datum_tells_the_same_bow(datum: str, reading: float) -> None:
    slip = tomllib.loads(WHOLE)
    slip["bow"] |= {"datum": datum, "balance_mm": reading, "ferrule_ahead_mm": 3.0}
    r = compute(check_slip(slip)).answer.results
    assert r["balance_mm"] == {"frog_front": 190.0, "stick_end": 238.0, "button": 251.0, "ferrule": 187.0}


def test_two_scales_and_edge_agree_or_say_so() -> None:
    slip = {
        "bow": {"hair": "slack", "frog_length_mm": 48.0},
        "two_scales": {"near_mm": 5.93, "span_mm": 600.0, "near_g": 37.1, "far_g": 23.4},
    }
    r = compute(check_slip(slip)).answer.results
    # Lever: 232.07 from the near scale.
    assert r["mass_g"] == pytest.approx(60.5)
    assert r["balance_mm"]["stick_end"] == pytest.approx(238.0, abs=0.01)
    both = {**slip, "bow": {**slip["bow"], "mass_g": 60.5, "balance_mm": 200.0, "datum": "frog_front"}}
    codes = [n.code for n in compute(check_slip(both)).answer.warnings]
    assert "bow.scales_differ" in codes


def test_pendulum_measures_the_inertia_of_a_rod() -> None:
    # A uniform rod of 700 mm hung by the stick's end: T = 2 pi sqrt(2 L / 3 g); about 48 mm from that end
    # its inertia is m (L^2 / 12 + (350 - 48)^2).
    slip = {
        "bow": {"mass_g": 60.0, "balance_mm": 350.0, "datum": "stick_end", "hair": "tight", "hand_mm": 48.0},
        "pendulum": {"pivot_mm": 0.0, "period_s": 2 * math.pi * math.sqrt(2 * 0.7 / (3 * 9.81))},
    }
    r = compute(check_slip(slip)).answer.results
    assert r["inertia_hand_kg_m2"] == pytest.approx(0.060 * (0.7**2 / 12 + 0.302**2), rel=1e-9)


def test_parts_are_summed_where_nothing_was_weighed_whole() -> None:
    parts = [
        ("stick", 33.3, 303.0),
        ("frog", 13.5, 25.0),
        ("button", 4.2, 5.0),
        ("lapping", 2.5, 112.0),
        ("hair", 4.5, 375.0),
    ]
    slip = {
        "bow": {"hair": "tight", "frog_length_mm": 50.0},
        "part": [{"name": n, "mass_g": m, "at_mm": x} for n, m, x in parts],
    }
    r = compute(check_slip(slip)).answer.results
    mass = sum(m for _, m, _ in parts)
    assert r["mass_g"] == pytest.approx(mass)
    assert r["balance_mm"]["stick_end"] == pytest.approx(sum(m * x for _, m, x in parts) / mass)
    assert r["inertia_hand_kg_m2"] == pytest.approx(sum(m * (x - 50) ** 2 for _, m, x in parts) * 1e-9)


def test_a_heavier_lapping_hardly_changes_the_inertia_about_the_hand() -> None:
    # 5 g of silver where the hand holds: the balance by about 10 mm, the inertia by some 0.4 percent.
    slip = tomllib.loads(WHOLE)
    slip["bow"] |= {"mass_g": 55.5, "balance_mm": 200.0}
    del slip["part"]
    slip["change"] = slip["change"][:1]
    r = compute(check_slip(slip)).answer.results
    assert r["change"]["balance_difference_mm"] == pytest.approx(-11, abs=1.5)
    assert 0 < r["change"]["inertia_hand_kg_m2"] / r["inertia_hand_kg_m2"] - 1 < 0.008


EXAMPLE = Path(__file__).resolve().parents[2] / "examples" / "bow.toml"


def example() -> dict:  # type: ignore[type-arg]
    return tomllib.loads(EXAMPLE.read_text())


def test_modulus_comes_back_from_its_own_deflection() -> None:
    # Solid stick by the law, E 25 GPa, supports 50 and 690, load at 370: 1.374 mm per
    # newton (unit-load quadrature).
    slip = {
        "stick_wood": {"density_kg_m3": 1050.0, "section": "round"},
        "deflection": {
            "supports_mm": [50.0, 690.0],
            "load_at_mm": 370.0,
            "load_n": 5.0,
            "deflection_mm": 6.87,
        },
    }
    found = compute(check_slip(slip)).answer
    stick = found.results["stick"]
    assert stick["modulus_gpa"] == pytest.approx(25.0, abs=0.01)
    assert stick["stiffness_n_per_mm"] == pytest.approx(5 / 6.87)
    assert stick["mass_g"] == pytest.approx(33.347, abs=0.001)
    assert stick["centre_mm"] == pytest.approx(302.869, abs=0.001)
    assert stick["rig"]["load_n"] == 5.0
    assert found.status == "estimate"


def test_taper_deviation_at_the_printed_points_is_nothing() -> None:
    points = [(110.0, 8.6), (290.25, 8.0), (484.22, 7.1), (613.85, 6.2), (700.0, 5.3)]
    slip = {"stick": [{"at_mm": x, "diameter_mm": d} for x, d in points]}
    stick = compute(check_slip(slip)).answer.results["stick"]
    assert stick["taper_deviation_mm"] == pytest.approx([0.0] * 5, abs=0.01)
    assert stick["mass_g"] is None and stick["modulus_gpa"] is None


def test_sound_and_density_give_a_modulus() -> None:
    # E = rho c^2: 1050 kg/m3 at 4800 m/s, 24.19 GPa.
    slip = {"stick_wood": {"density_kg_m3": 1050.0, "sound_speed_m_s": 4800.0}}
    assert compute(check_slip(slip)).answer.results["stick"]["modulus_gpa"] == pytest.approx(24.192)


def test_hair_that_cannot_serve_the_season_says_so() -> None:
    slip = {
        "hair": {
            "tied": "dry",
            "length_mm": 650.0,
            "width_mm": 10.0,
            "humidity_percent": 65.0,
            "driest_percent": 35.0,
            "dampest_percent": 65.0,
            "frog_travel_mm": 2.0,
            "eye_place_mm": 1.0,
            "slot_mm": 4.0,
            "coefficient": 0.0225,
        }
    }
    found = compute(check_slip(slip)).answer
    codes = {n.code for n in found.warnings}
    assert {"bow.travel_short", "bow.cannot_slacken", "bow.slot_short"} <= codes
    assert found.results["hair"]["frog_travel_needed_mm"] == pytest.approx(3.5, abs=0.1)
    assert found.status == "ok"


def test_wish_is_reached_and_round_trips() -> None:
    slip = example()
    near = compute(check_slip(slip)).answer.results["wish"]["found"]
    wound = {
        "part": "lapping",
        "wire_mm": near["wire_mm"],
        "length_mm": near["length_mm"],
        "material": near["material"],
        "from_mm": 75.0,
    }
    slip["change"] = [wound]
    change = compute(check_slip(slip)).answer.results["change"]
    assert change["mass_g"] == pytest.approx(60.6, abs=1e-6)
    assert change["balance_mm"]["frog_front"] == pytest.approx(188.0, abs=1e-6)


def test_wish_out_of_reach_is_infeasible_with_the_nearest() -> None:
    slip = example()
    slip["wish"]["bow"] = {"mass_g": 75.0, "balance_mm": 230.0}
    found = compute(check_slip(slip)).answer
    assert found.status == "infeasible"
    assert not found.results["wish"]["reached"]
    assert "bow.out_of_reach" in [n.code for n in found.warnings]
