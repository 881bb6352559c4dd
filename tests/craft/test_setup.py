"""The set-up: printed figures, the plausibility band, then the identities of docs/setup-geometry.md."""

import dataclasses
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from purfling.craft.card import Card, Gauge, StringOn, board_slope
from purfling.craft.defaults import default, default_strings
from purfling.craft.quantities import Family
from purfling.craft.refusals import Refusal
from purfling.craft.setup import setup


def card_from_tables(family: Family = "violin", **changes: object) -> Card:
    """A card with everything that may be left out taken from the tables."""
    lengths = {"violin": (328.0, 270.0, 27.0), "viola": (374.0, 298.0, 32.0), "cello": (690.0, 580.0, 81.0)}
    clear = {
        "violin": ((5.5, 4.9, 4.2, 3.5), (0.4, 0.35, 0.3, 0.25)),
        "viola": ((6.2, 5.6, 5.0, 4.4), (0.5, 0.45, 0.4, 0.3)),
        "cello": ((7.8, 7.0, 6.0, 5.0), (0.8, 0.7, 0.6, 0.5)),
    }
    length, board, projection = lengths[family]
    d = {
        k: default(family, k).value
        for k in (
            "neck.stop_mm",
            "neck.overstand_mm",
            "body.arch_mm",
            "body.stop_mm",
            "board.radius_nut_mm",
            "board.radius_end_mm",
            "board.edge_at_root_mm",
            "board.width_root_mm",
            "nut.spacing_mm",
            "bridge.spacing_mm",
            "bridge.foot_span_mm",
            "bridge.foot_length_mm",
            "saddle.height_mm",
            "saddle.distance_mm",
        )
    }
    card = Card(
        family=family,
        string_length_mm=length,
        projection_mm=projection,
        board_slope_deg=None,
        neck_stop_mm=d["neck.stop_mm"],
        overstand_mm=d["neck.overstand_mm"],
        arch_mm=d["body.arch_mm"],
        stop_mm=d["body.stop_mm"],
        board_length_mm=board,
        radius_nut_mm=d["board.radius_nut_mm"],
        radius_end_mm=d["board.radius_end_mm"],
        edge_at_root_mm=d["board.edge_at_root_mm"],
        width_root_mm=d["board.width_root_mm"],
        width_nut_mm=None,
        width_end_mm=None,
        flat_low_mm=None,
        nut_spacing_mm=d["nut.spacing_mm"],
        nut_spacing="centres",
        nut_clearance_mm=clear[family][1],
        nut_datum="underside",
        end_clearance_mm=clear[family][0],
        end_datum="underside",
        end_direction="upright",
        bridge_spacing_mm=d["bridge.spacing_mm"],
        bridge_spacing="centres",
        foot_span_mm=d["bridge.foot_span_mm"],
        foot_length_mm=d["bridge.foot_length_mm"],
        notch_depth_mm=None,
        saddle_height_mm=d["saddle.height_mm"],
        saddle_distance_mm=d["saddle.distance_mm"],
        strings=tuple(StringOn(s.name, s.diameter_mm, s.tension_n) for s in default_strings(family)),
        tension_state="strung",
    )
    return dataclasses.replace(card, **changes)  # type: ignore[arg-type]


def notches(card: Card) -> list[float]:
    return [s.notch_height_mm for s in setup(card).strings]


def test_board_slope_of_a_measured_neck() -> None:
    # By hand: root = 6.25 + 4.5 + (42 - sqrt(42^2 - 16.5^2)) = 14.13; atan((27 + 15.5 - 14.13)/195) = 8.28.
    assert board_slope(card_from_tables()) == pytest.approx(8.28, abs=0.01)


def test_a_violin_from_the_tables_is_a_violin() -> None:
    # Plausibility band, common practice, no source: centre 31 to 34 mm, 156 to 159 degrees on the two middle
    # strings, 80 to 95 N. Mayson 1902 prints 1 5/16 in = 33.3 mm for the height.
    found = setup(card_from_tables())
    assert 31.0 <= found.centre_height_mm <= 34.0
    assert found.centre_height_mm == pytest.approx(1.3125 * 25.4, abs=1.2)
    for middle in found.strings[1:3]:
        assert 156.0 <= middle.break_angle_deg <= 159.0
    assert 80.0 <= found.load.total_down_force_n <= 95.0


@pytest.mark.parametrize(("family", "low", "high"), [("viola", 33, 39), ("cello", 84, 96)])
def test_viola_and_cello_from_the_tables_are_usual(family: Family, low: float, high: float) -> None:
    # Usual bands of the readings: common practice, no source.
    found = setup(card_from_tables(family))
    assert low <= found.crown_centre_height_mm <= high


def test_upright_and_wedge_readings_of_one_board_give_the_same_notches() -> None:
    # Radius 42: 5.50 upright under the lowest string reads 5.17 by wedge, 3.50 under the highest 3.28
    # (geometry of the arc; d the distance of the underside from the arc's centre, wedge = d - R).
    upright = card_from_tables(end_clearance_mm=(5.5, 4.9, 4.2, 3.5))
    y = setup(upright).end_lateral_mm
    wedge = []
    for c, lateral in zip((5.5, 4.9, 4.2, 3.5), y, strict=True):
        height = math.sqrt(42.0**2 - lateral**2) + c
        wedge.append(math.hypot(height, lateral) - 42.0)
    assert wedge[0] == pytest.approx(5.17, abs=0.02)
    assert wedge[3] == pytest.approx(3.28, abs=0.02)
    by_wedge = card_from_tables(end_clearance_mm=(5.17, wedge[1], wedge[2], 3.28), end_direction="wedge")
    for a, b in zip(notches(upright), notches(by_wedge), strict=True):
        assert a == pytest.approx(b, abs=0.02)


def test_taking_a_wedge_for_an_upright_reading_moves_the_notch_by_0_4() -> None:
    right = notches(card_from_tables(end_clearance_mm=(5.17, 4.8, 4.1, 3.28), end_direction="wedge"))
    wrong = notches(card_from_tables(end_clearance_mm=(5.17, 4.8, 4.1, 3.28)))
    assert right[0] - wrong[0] == pytest.approx(0.4, abs=0.05)


def test_datum_centre_takes_off_half_the_diameter() -> None:
    below = card_from_tables()
    half = [s.diameter_mm / 2 for s in below.strings]
    centre = card_from_tables(
        end_clearance_mm=tuple(c + h for c, h in zip(below.end_clearance_mm, half, strict=True)),
        end_datum="centre",
        nut_clearance_mm=tuple(c + h for c, h in zip(below.nut_clearance_mm, half, strict=True)),
        nut_datum="centre",
    )
    assert notches(centre) == [pytest.approx(v, abs=1e-12) for v in notches(below)]


# ---- identities, board slope kept -------------------------------------------------------------------

SLOPE = 8.3
offs = st.floats(-0.8, 0.8)


def with_wood_off(card: Card, t_n: float, t_e: float) -> Card:
    """The same neck with wood off the board: projection falls, radii stay (removed evenly across)."""
    share = card.string_length_mm / card.board_length_mm
    fall = (t_e * share - t_n * (share - 1)) / math.cos(math.radians(SLOPE))
    return dataclasses.replace(card, projection_mm=card.projection_mm - fall)


@given(offs, offs)
def test_wood_off_the_board_lowers_the_bridge(t_n: float, t_e: float) -> None:
    card = card_from_tables(board_slope_deg=SLOPE)
    share = card.string_length_mm / card.board_length_mm
    change = -(t_e * share - t_n * (share - 1)) / math.cos(math.radians(SLOPE))
    for old, new in zip(notches(card), notches(with_wood_off(card, t_n, t_e)), strict=True):
        assert new - old == pytest.approx(change, abs=1e-9)


@given(offs)
def test_nut_kept_lowers_the_bridge_by_the_end_alone(t_e: float) -> None:
    # The nut is left as high as it was: its clearance grows by t_n over the planed board.
    t_n = 0.3
    card = card_from_tables(board_slope_deg=SLOPE)
    share = card.string_length_mm / card.board_length_mm
    planed = with_wood_off(card, t_n, t_e)
    planed = dataclasses.replace(planed, nut_clearance_mm=tuple(c + t_n for c in card.nut_clearance_mm))
    expected = -(t_e * share) / math.cos(math.radians(SLOPE))
    for old, new in zip(notches(card), notches(planed), strict=True):
        assert new - old == pytest.approx(expected, abs=1e-9)


@given(st.floats(-1.0, 1.0))
def test_lowering_the_clearance_lowers_the_notch_by_l_over_lb(ds: float) -> None:
    card = card_from_tables(board_slope_deg=SLOPE)
    lower = dataclasses.replace(card, end_clearance_mm=tuple(c - ds for c in card.end_clearance_mm))
    factor = card.string_length_mm / (card.board_length_mm * math.cos(math.radians(SLOPE)))
    for old, new in zip(notches(card), notches(lower), strict=True):
        assert old - new == pytest.approx(ds * factor, abs=1e-9)


def test_half_a_millimetre_at_the_board_is_0_61_at_the_bridge() -> None:
    # 0.5 * 328 / 270 = 0.607 over the board line; upright / cos(8.28) = 0.614.
    card = card_from_tables()
    lower = dataclasses.replace(card, end_clearance_mm=tuple(c - 0.5 for c in card.end_clearance_mm))
    assert notches(card)[0] - notches(lower)[0] == pytest.approx(0.614, abs=0.001)


def test_clearance_follows_from_nut_and_notch() -> None:
    # s = c (1 - Lb/L) + (h' - P') cos(theta) Lb/L, h' - P' over the board line's surface under the string.
    card = card_from_tables(board_slope_deg=SLOPE)
    found = setup(card)
    u = card.board_length_mm / card.string_length_mm
    for i, place in enumerate(found.strings):
        surface_nut = found.level_nut_mm[i] - found.nut_clearance_mm[i]
        surface_end = found.level_end_mm[i] - found.clearance_mm[i]
        surface = surface_nut + (surface_end - surface_nut) / u
        over = (place.notch_height_mm - card.projection_mm) - surface / math.cos(math.radians(SLOPE))
        s = found.nut_clearance_mm[i] * (1 - u) + over * math.cos(math.radians(SLOPE)) * u
        assert s == pytest.approx(found.clearance_mm[i], abs=1e-9)


def mirrored(card: Card) -> Card:
    return dataclasses.replace(
        card,
        strings=tuple(reversed(card.strings)),
        end_clearance_mm=tuple(reversed(card.end_clearance_mm)),
        nut_clearance_mm=tuple(reversed(card.nut_clearance_mm)),
    )


@given(st.sampled_from(["centres", "gaps"]), st.sampled_from(["upright", "wedge"]))
def test_a_mirror_image_mirrors_the_answer(spacing: str, direction: str) -> None:
    card = card_from_tables(nut_spacing=spacing, bridge_spacing=spacing, end_direction=direction)
    one, other = setup(card), setup(mirrored(card))
    for a, b in zip(one.strings, reversed(other.strings), strict=True):
        assert a.notch_height_mm == pytest.approx(b.notch_height_mm, abs=1e-9)
        assert a.lateral_mm == pytest.approx(-b.lateral_mm, abs=1e-9)
    assert one.load.bass_foot_n == pytest.approx(other.load.treble_foot_n)
    assert one.notch_curve.lateral_mm == pytest.approx(-other.notch_curve.lateral_mm, abs=1e-6)


LENGTHS = [
    "string_length_mm",
    "projection_mm",
    "neck_stop_mm",
    "overstand_mm",
    "arch_mm",
    "stop_mm",
    "board_length_mm",
    "radius_nut_mm",
    "radius_end_mm",
    "edge_at_root_mm",
    "width_root_mm",
    "nut_spacing_mm",
    "bridge_spacing_mm",
    "foot_span_mm",
    "foot_length_mm",
    "saddle_height_mm",
    "saddle_distance_mm",
]


@given(st.floats(0.5, 2.5))
def test_scaling_every_length_scales_every_length_and_no_load(k: float) -> None:
    card = card_from_tables()
    changes: dict[str, object] = {name: getattr(card, name) * k for name in LENGTHS}
    changes["end_clearance_mm"] = tuple(c * k for c in card.end_clearance_mm)
    changes["nut_clearance_mm"] = tuple(c * k for c in card.nut_clearance_mm)
    changes["strings"] = tuple(dataclasses.replace(s, diameter_mm=s.diameter_mm * k) for s in card.strings)
    small, large = setup(card), setup(dataclasses.replace(card, **changes))  # type: ignore[arg-type]
    assert large.centre_height_mm == pytest.approx(small.centre_height_mm * k, rel=1e-9)
    assert large.crown_curve.radius_mm == pytest.approx(small.crown_curve.radius_mm * k, rel=1e-6)
    assert large.load.total_down_force_n == pytest.approx(small.load.total_down_force_n, rel=1e-9)
    assert large.load.treble_foot_n == pytest.approx(small.load.treble_foot_n, rel=1e-9)


@given(st.floats(0.2, 3.0))
def test_scaling_every_tension_scales_every_load(k: float) -> None:
    card = card_from_tables()
    tight = tuple(dataclasses.replace(s, tension_n=s.tension_n * k) for s in card.strings)
    one, other = setup(card), setup(dataclasses.replace(card, strings=tight))
    for name in ("total_tension_n", "total_down_force_n", "bass_foot_n", "treble_foot_n", "along_string_n"):
        assert getattr(other.load, name) == pytest.approx(getattr(one.load, name) * k, rel=1e-9)
    assert other.centre_height_mm == one.centre_height_mm


def test_errors_of_the_notches_against_a_simulation() -> None:
    # Monte Carlo over the same gauges, an independent way to the first-order propagation; 6000 draws: 2.7 %.
    import numpy as np

    card = card_from_tables()
    rng = np.random.default_rng(5)
    g = card.gauge
    drawn = []
    for _ in range(6000):
        n = 4
        moved = dataclasses.replace(
            card,
            projection_mm=card.projection_mm + g.projection_mm * rng.standard_normal(),
            string_length_mm=card.string_length_mm + g.length_mm * rng.standard_normal(),
            board_length_mm=card.board_length_mm + g.length_mm * rng.standard_normal(),
            stop_mm=card.stop_mm + g.length_mm * rng.standard_normal(),
            radius_nut_mm=card.radius_nut_mm + g.radius_mm * rng.standard_normal(),
            radius_end_mm=card.radius_end_mm + g.radius_mm * rng.standard_normal(),
            nut_spacing_mm=card.nut_spacing_mm + g.spacing_mm * rng.standard_normal(),
            bridge_spacing_mm=card.bridge_spacing_mm + g.spacing_mm * rng.standard_normal(),
            end_clearance_mm=tuple(card.end_clearance_mm + g.clearance_end_mm * rng.standard_normal(n)),
            nut_clearance_mm=tuple(card.nut_clearance_mm + g.clearance_nut_mm * rng.standard_normal(n)),
        )
        drawn.append(notches(moved))
    spread = np.std(np.array(drawn), axis=0)
    for place, sd in zip(setup(card).strings, spread, strict=True):
        assert place.notch_height_error_mm == pytest.approx(float(sd), rel=0.05)


def test_no_gauge_error_no_error() -> None:
    still = card_from_tables(gauge=Gauge(0, 0, 0, 0, 0, 0))
    assert [s.notch_height_error_mm for s in setup(still).strings] == [0, 0, 0, 0]


def test_edge_margin_is_half_the_width_less_place_and_half_the_string() -> None:
    found = setup(card_from_tables(width_nut_mm=24.0, width_end_mm=42.5))
    low = found.strings[0]
    assert low.edge_margin_nut_mm == pytest.approx(12.0 - 8.25 - 0.4)
    assert low.edge_margin_end_mm == pytest.approx(21.25 + found.end_lateral_mm[0] - 0.4)


@pytest.mark.parametrize(
    ("changes", "code"),
    [
        ({"board_length_mm": 330.0}, "board_too_long"),
        ({"nut_spacing_mm": 90.0}, "outside_arc"),
        ({"bridge_spacing_mm": 120.0}, "outside_arc"),
        ({"board_slope_deg": 87.0}, "slope_is_root_angle"),
        ({"foot_length_mm": 22.0}, "feet_overlap"),
        ({"nut_clearance_mm": (0.4, 0.3)}, "wrong_length"),
    ],
)
def test_a_card_that_is_no_instrument_is_refused(changes: dict[str, object], code: str) -> None:
    with pytest.raises(Refusal, match=code):
        setup(card_from_tables(**changes))
