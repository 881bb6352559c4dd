"""Dressing: against a slow oracle, known least answers, laws, and the survey's figures."""

from dataclasses import replace

import numpy as np
import pytest
from dressing_boards import LENGTH, STRING, WISH, good_board, mirrored, oracle, scan, worn

from purfling.craft.dressing import dress, grant, surface_of
from purfling.craft.dressing_board import DressingWish
from purfling.craft.dressing_lp import Programme
from purfling.craft.dressing_prices import priced_rows
from purfling.craft.dressing_search import search_radii
from purfling.craft.refusals import Refusal

WIDE = replace(WISH, radius_nut_mm=(37.0, 49.0), radius_end_mm=(37.0, 49.0))


@pytest.mark.parametrize("pair", [(42.0, 42.0), (40.0, 44.0), (44.0, 40.5)])
@pytest.mark.parametrize("seed", [0, 1])
def test_programme_agrees_with_oracle(pair, seed):
    """Independent implementation: every constraint by itself, dense, no pruning; HiGHS' tolerance is 1e-7."""
    board = worn(good_board(9, 7), seed)
    assert Programme(board, WISH).solve(pair).value == pytest.approx(oracle(board, WISH, *pair), abs=1e-6)


@pytest.mark.parametrize(
    ("part", "change"),
    [
        ("scoop_low_max", {"scoop_low_mm": (0.3, 0.5)}),
        ("scoop_low_min", {"scoop_low_mm": (1.0, 1.4)}),
        ("scoop_high_max", {"scoop_high_mm": (0.05, 0.12)}),
        ("scoop_high_min", {"scoop_high_mm": (0.6, 0.9)}),
        (
            "projection",
            {"scoop_low_mm": (0.3, 0.5), "scoop_high_mm": (0.05, 0.15), "projection_loss_max_mm": 0.1},
        ),
        ("edge_bass", {"least_mm": 5.325, "weight_max": 0.0, "weight_mean": 1.0}),
    ],
)
def test_each_limit_holds_and_agrees_with_oracle(part: str, change: dict) -> None:
    """Each limit made to bind: the oracle's objective, and the limit named among what holds the plan."""
    board, wish = worn(good_board(9, 7), 2), replace(WISH, **change)
    pair = (42.0, 42.0)
    programme = Programme(board, wish)
    solved = programme.solve(pair)
    assert solved.blocked < 1e-6
    assert solved.value == pytest.approx(oracle(board, wish, *pair), abs=1e-6)
    assert part in {why for why, _, _ in priced_rows(programme, pair)}
    wider = {
        "scoop_low_mm": (0.0, 9.0),
        "scoop_high_mm": (0.0, 9.0),
        "projection_loss_max_mm": 9.0,
        "least_mm": 0.0,
    }
    assert solved.value > Programme(board, replace(wish, **wider)).solve(pair).value + 1e-6


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("wish", [WISH, WIDE])
def test_search_agrees_with_brute_force(seed, wish):
    """Brute force over a grid of radii with the oracle: the search is never worse, and what it found is true.

    (The valleys are narrow: between the grid's radii the search may well find less.)
    """
    board = worn(good_board(7, 5), seed)
    plan = dress(board, wish)
    assert plan.objective_mm <= scan(board, wish) + 1e-3
    assert oracle(board, wish, *plan.pair) == pytest.approx(plan.objective_mm, abs=1e-6)


def test_brute_force_with_tight_edges():
    board = replace(worn(good_board(7, 5), 5), edge_bass_mm=4.25)
    best = scan(board, WIDE)
    assert best is not None
    assert dress(board, WIDE).objective_mm <= best + 1e-3


def test_nan_does_not_count():
    board = worn(good_board(9, 7), 2)
    z = board.height_mm.copy()
    z[3, 2] = z[5, 5] = np.nan
    board = replace(board, height_mm=z)
    plan = dress(board, WISH)
    assert np.isnan(plan.removal_mm[3, 2]) and np.isnan(plan.removal_mm[5, 5])
    assert plan.mean_removal_mm == pytest.approx(np.nanmean(plan.removal_mm), abs=1e-12)
    assert plan.objective_mm <= scan(board, WISH) + 1e-3


@pytest.mark.parametrize("flat", [None, 9.0])
def test_good_board_needs_nothing(flat):
    board = good_board(15, 9, flat=flat)
    plan = dress(board, WISH)
    assert plan.objective_mm < 1e-6
    assert plan.scoop_mm[[0, -1]] == pytest.approx([0.75, 0.25], abs=1e-4)


def test_even_layer_too_high_comes_off_evenly():
    """Known least answer: one place 0.2 low on a board whose wish leaves it no other way: 0.2 everywhere."""
    wish = replace(
        WISH,
        scoop_low_mm=(0.75, 0.75),
        scoop_high_mm=(0.25, 0.25),
        radius_nut_mm=(42, 42),
        radius_end_mm=(42, 42),
    )
    board = good_board(9, 7)
    z = board.height_mm.copy()
    z[4, 3] -= 0.2
    plan = dress(replace(board, height_mm=z), wish)
    # heights and tilts are fixed by both scoops but for the board's ends (4 unknowns); the place is on the
    # centre line, half way: the ends' mean must fall by 0.2
    assert plan.max_removal_mm == pytest.approx(0.2, abs=1e-5)
    assert plan.removal_mm[4, 3] == pytest.approx(0.0, abs=1e-6)


def test_bulge_of_a_known_height_is_all_that_comes_off():
    """Known least answer: wood standing 0.3 proud at some places of a good board comes off there alone."""
    board = good_board(9, 7)
    z = board.height_mm.copy()
    z[2:5, 1] += 0.3
    plan = dress(replace(board, height_mm=z), replace(WISH, weight_max=0.0, weight_mean=1.0))
    assert plan.max_removal_mm == pytest.approx(0.3, abs=2e-3)
    assert plan.mean_removal_mm == pytest.approx(3 * 0.3 / 63, abs=1e-4)


def test_pit_never_lowers_the_objective():
    rng = np.random.default_rng(3)
    for seed in range(6):
        board = worn(good_board(9, 7), seed)
        plain = dress(board, WISH).objective_mm
        station, j = float(rng.uniform(5, 265)), int(rng.integers(7))
        y = float(np.interp(station, board.station_mm, board.lateral_mm[:, j]))
        z = float(np.interp(station, board.station_mm, board.height_mm[:, j])) - rng.uniform(0.0, 0.5)
        pit = replace(
            board,
            pit_station_mm=np.array([station]),
            pit_lateral_mm=np.array([y]),
            pit_height_mm=np.array([z]),
        )
        plan = dress(pit, WISH)
        assert plan.objective_mm >= plain - 2e-4  # the search's own exactness
        assert surface_of(plan, pit, np.array([station]), np.array([y]))[0] <= z + 1e-6
        leave = replace(WISH, leave_mm=2.0)
        assert dress(pit, leave).objective_mm == pytest.approx(dress(board, leave).objective_mm, abs=0.01)


def test_groove_of_the_grid_may_stay():
    board = good_board(9, 9)
    z = board.height_mm.copy()
    z[4, 2] -= 0.15
    board = replace(board, height_mm=z)
    assert dress(board, WISH).objective_mm > 0.05
    assert dress(board, replace(WISH, leave_mm=0.16)).objective_mm < 0.01
    smooth = worn(good_board(9, 9), grooves=0)
    kept, plain = (dress(smooth, replace(WISH, leave_mm=leave)).objective_mm for leave in (0.2, 0.0))
    assert kept == pytest.approx(plain, abs=0.02)  # no groove there, so nothing may stay


def test_mirror_mirrors_the_objective():
    for seed in range(3):
        board = worn(good_board(9, 7), seed)
        other, wish = mirrored(board, WISH)
        assert dress(other, wish).objective_mm == pytest.approx(dress(board, WISH).objective_mm, abs=5e-4)


@pytest.mark.parametrize("size", [0.7, 1.9])
def test_scaling_scales(size):
    wish = DressingWish(
        *[tuple(v * size for v in band) for band in (WISH.scoop_low_mm, WISH.scoop_high_mm)],
        *[tuple(v * size for v in band) for band in (WISH.radius_nut_mm, WISH.radius_end_mm)],
        WISH.projection_loss_max_mm * size,
        WISH.least_mm * size,
    )
    one = dress(worn(good_board(9, 7), 1), WISH)
    other = dress(worn(good_board(9, 7, size=size), 1), wish)
    assert other.objective_mm == pytest.approx(size * one.objective_mm, abs=1e-3 * size)
    assert other.max_removal_mm == pytest.approx(size * one.max_removal_mm, abs=2e-3 * size)


def test_survey_of_scoop_against_radius():
    """A maker's survey: G 0.75 and E 0.25 with 42 throughout leave 0.68 in the centre; 0.50 there asks for
    38 mid.

    The spacings of its paths are not printed, so +-0.04 and +-0.5.
    """
    plan = dress(good_board(9, 7), WISH)
    p = plan.programme
    assert np.interp(LENGTH / 2, p.x, -plan.solved.centre_mm) == pytest.approx(0.68, abs=0.04)
    y = 12.125
    sagitta = (8.25**2 / (42 + np.sqrt(42**2 - 8.25**2)) + 16.0**2 / (42 + np.sqrt(42**2 - 16.0**2))) / 2
    middle = (0.75 + 0.25) / 2 + sagitta - 0.50
    assert (y * y + middle * middle) / (2 * middle) == pytest.approx(38.0, abs=0.5)


def blocked_case(case, seed):
    """Worn boards whose wish cannot be had, each for another reason."""
    board, wish = (
        worn(good_board(9, 7), seed),
        replace(WISH, scoop_low_mm=(0.6, 0.8), scoop_high_mm=(0.2, 0.3)),
    )
    if case == "edges":
        return replace(board, edge_bass_mm=4.05, edge_treble_mm=4.05), wish
    if case == "bass":
        z = board.height_mm.copy()
        z[3:6, 1] -= 0.3
        return replace(board, height_mm=z, edge_bass_mm=4.02, edge_treble_mm=4.3), wish
    if case == "projection":
        at, off = np.array([LENGTH]), np.array([-0.3])
        end = {"pit_station_mm": at, "pit_lateral_mm": np.zeros(1), "pit_height_mm": off}
        return replace(board, **end, edge_bass_mm=4.6, edge_treble_mm=4.6), replace(
            wish, projection_loss_max_mm=0.05
        )
    if case == "scoop":
        board = replace(board, edge_bass_mm=4.0, edge_treble_mm=4.0)
        return board, replace(
            wish, scoop_low_mm=(0.3, 0.4), scoop_high_mm=(0.1, 0.15), projection_loss_max_mm=0.0
        )
    return replace(board, edge_bass_mm=4.0), replace(
        wish, scoop_low_mm=(1.2, 1.4), scoop_high_mm=(0.7, 0.75), projection_loss_max_mm=0.0, least_mm=5.49
    )


@pytest.mark.parametrize("seed", [0, 1, 2])
@pytest.mark.parametrize("case", ["edges", "bass", "projection", "scoop", "all"])
def test_what_blocks_makes_it_feasible(case, seed):
    board, wish = blocked_case(case, seed)
    plan = dress(board, wish)
    assert plan.blocked_by
    values: dict = {}
    for block in plan.blocked_by:
        assert block.constraint in ("edge_bass", "edge_treble", "projection", "scoop_low", "scoop_high")
        if block.constraint.startswith("edge"):
            assert block.limit_mm == wish.least_mm and block.needed_mm < block.limit_mm
            values["least_mm"] = min(block.needed_mm, values.get("least_mm", 99.0))
        elif block.constraint == "projection":
            assert block.needed_mm > block.limit_mm == wish.projection_loss_max_mm
            values["projection_loss_max_mm"] = block.needed_mm
        else:
            key = block.constraint + "_mm"
            low, high = values.get(key, getattr(wish, key))
            values[key] = (block.needed_mm, high) if block.bound == "min" else (low, block.needed_mm)
    granted = dress(board, replace(wish, **values))
    assert not granted.blocked_by
    assert scan(board, wish, 3) is None  # the oracle finds no way either


def test_projection_blocks_by_the_identity():
    """A pit of 0.2 at the board's end; edges let 0.2 off, at the nut too: the loss is t / cos(slope) (t_n =
    t_e).
    """
    board = replace(
        good_board(9, 7),
        pit_station_mm=np.array([LENGTH]),
        pit_lateral_mm=np.zeros(1),
        pit_height_mm=np.array([-0.2]),
        edge_bass_mm=4.2,
        edge_treble_mm=4.2,
    )
    tight = replace(
        WISH,
        projection_loss_max_mm=0.19,
        radius_nut_mm=(42, 42),
        radius_end_mm=(42, 42),
        scoop_low_mm=(0.7, 0.8),
    )
    blocks = dress(board, tight).blocked_by
    assert [b.constraint for b in blocks] == ["projection"]
    assert blocks[0].needed_mm == pytest.approx(0.2 / np.cos(np.radians(8.0)), abs=2e-3)
    alone = (0.2 * STRING / LENGTH) / np.cos(
        np.radians(8.0)
    )  # nothing off at the nut: the identity with t_n = 0
    free = dress(board, replace(tight, projection_loss_max_mm=1.0))
    assert free.centre_off_mm[1] == pytest.approx(0.2, abs=1e-6)
    loss = (free.centre_off_mm[1] * STRING - free.centre_off_mm[0] * (STRING - LENGTH)) / LENGTH
    assert loss / np.cos(np.radians(8.0)) <= alone + 1e-9


def test_edges_are_the_present_less_the_removal():
    plan = dress(worn(good_board(9, 7), 4), WISH)
    assert plan.edge_left_mm[0] == pytest.approx(5.5 - plan.removal_mm[:, 0].max())
    assert plan.edge_left_mm[1] == pytest.approx(5.5 - plan.removal_mm[:, -1].max())


def test_stations_that_stop_short_of_the_ends_are_prolonged():
    """The parabola through the three nearest stations of each line is exact on a parabolic scoop of one
    section.
    """
    full = good_board(13, 7)
    short = replace(
        full,
        station_mm=full.station_mm[1:-1],
        lateral_mm=full.lateral_mm[1:-1],
        height_mm=full.height_mm[1:-1],
    )
    assert dress(short, WISH).objective_mm < 2e-3


def test_binding_names_the_lowest_place_and_the_deepest():
    board = good_board(9, 7)
    z = board.height_mm.copy()
    z[4, 3] -= 0.2
    plan = dress(replace(board, height_mm=z), WISH)
    held = {(round(b.station_mm, 3), b.why) for b in plan.binding}
    assert (round(LENGTH / 2, 3), "lowest") in held
    assert any(why == "deepest" for _, why in held)


def test_error_of_removal_by_trial():
    """Monte Carlo: readings shaken by a small gauge error, radii kept; the scatter of the removal is what
    is stated.
    """
    board = worn(good_board(7, 5), 1)
    sigma = 1e-4  # small: first order, the same rows hold
    plan = dress(board, WISH, sigma)
    rng = np.random.default_rng(0)
    shaken = []
    for _ in range(100):
        z = board.height_mm + rng.normal(0, sigma, board.height_mm.shape)
        s = Programme(replace(board, height_mm=z), WISH).solve(plan.pair)
        shaken.append(z - s.centre_mm[:, None] - s.tilt[:, None] * board.lateral_mm)
    scatter = np.sqrt(np.array(shaken).var(axis=0).mean())
    assert plan.removal_error_mm == pytest.approx(scatter, rel=0.25)
    assert plan.removal_error_mm > sigma  # the plan moves as well


def test_grant_moves_outwards_only():
    new = grant(WISH, {"edge_bass": 0.1, "scoop_low_max": 0.05, "projection": 0.3, "scoop_high_min": 0.1})
    assert new.least_mm <= 3.9 and new.projection_loss_max_mm >= 1.3
    assert new.scoop_low_mm[1] >= 1.05 and new.scoop_high_mm[0] <= 0.1


@pytest.mark.parametrize(
    ("code", "change"),
    [
        (
            "dressing.bump",
            lambda b: replace(b, height_mm=b.height_mm + 5.0 * (np.arange(63).reshape(9, 7) == 30)),
        ),
        ("dressing.bump", lambda b: replace(b, height_mm=b.height_mm + 5.0 * (np.arange(9) == 4)[:, None])),
        ("dressing.out_of_order", lambda b: replace(b, station_mm=b.station_mm[[0, 2, 1, 3, 4, 5, 6, 7, 8]])),
        ("dressing.out_of_order", lambda b: replace(b, lateral_mm=b.lateral_mm[:, ::-1])),
        (
            "dressing.one_line",
            lambda b: replace(b, lateral_mm=b.lateral_mm[:, :1], height_mm=b.height_mm[:, :1]),
        ),
        ("dressing.off_the_board", lambda b: replace(b, board_length_mm=250.0)),
        ("dressing.outside_arc", lambda b: replace(b, lateral_mm=2 * b.lateral_mm)),
        ("setup.board_too_long", lambda b: replace(b, board_length_mm=330.0)),
        ("dressing.far_from_end", lambda b: replace(b, station_mm=b.station_mm * 0.7)),
        ("dressing.far_from_nut", lambda b: replace(b, station_mm=b.station_mm * 0.7 + 81)),
        ("dressing.few_places", lambda b: replace(b, height_mm=np.full((9, 7), np.nan))),
    ],
)
def test_nonsense_is_refused_by_name(code, change):
    with pytest.raises(Refusal) as said:
        dress(change(good_board(9, 7)), WISH)
    assert said.value.code == code


def test_search_is_repeatable():
    board = worn(good_board(9, 7), 0)
    one, other = search_radii(board, WISH), search_radii(board, WISH)
    assert one.pair == other.pair and one.solved.value == other.solved.value
    assert STRING > LENGTH
