"""The surface built from straight edges and templates, against full surfaces of known shape."""

from dataclasses import replace

import numpy as np
import pytest
from dressing_boards import BRIDGE, LENGTH, NUT, STRING, WISH, arc, good_board

from purfling.craft.dressing import dress
from purfling.craft.dressing_board import MeasuredBoard
from purfling.craft.dressing_lines import (
    Groove,
    StraightEdge,
    Template,
    build_surface,
    effective_radius,
    reading_effects,
)
from purfling.craft.refusals import Refusal

SEVEN = np.linspace(0, LENGTH, 9)[1:-1]
HALF = (11.5, 20.5)
ENDS = NUT + (BRIDGE - NUT) * LENGTH / STRING


def smooth(u, y, case):
    """Height of smooth boards, worn without grooves: exact arcs in every section."""
    low, high, mid, radius = {
        "deep": (1.15, 0.7, 0.0, 42.0 + 0 * u),
        "flat_scoop": (0.35, 0.1, 0.0, 42.0 + 0 * u),
        "round_middle": (0.8, 0.3, 0.0, 42 - 4 * 4 * u * (1 - u)),
        "flat_end": (0.8, 0.3, 0.0, 42 + 6 * u),
        "lopsided": (0.9, 0.2, 0.15, 43 - 2 * u),
    }[case]
    path = [NUT[k] + (ENDS[k] - NUT[k]) * u for k in (0, 3)]
    top = []
    for p, scoop in zip(path, (low, high), strict=True):
        ends = [
            -arc(42.0 if case == "round_middle" else r, q)
            for r, q in ((radius[0], p[0]), (radius[-1], p[-1]))
        ]
        hollow = scoop * 4 * u * (1 - u) + mid * np.sin(2 * np.pi * u) ** 2
        top.append(ends[0] * (1 - u) + ends[1] * u - hollow)
    flat = [t + arc(radius, p) for t, p in zip(top, path, strict=True)]
    tilt = (flat[1] - flat[0]) / (path[1] - path[0])
    centre = flat[0] - tilt * path[0]
    shape = (slice(None), None) if np.ndim(y) == 2 else slice(None)
    return centre[shape] + tilt[shape] * y - arc(radius[shape], y)


def full_board(case, n=28, m=13):
    u = np.linspace(0, 1, n)
    y = np.outer(HALF[0] + (HALF[1] - HALF[0]) * u, np.linspace(-1, 1, m))
    return MeasuredBoard(LENGTH, STRING, u * LENGTH, y, smooth(u, y, case), NUT, BRIDGE, 8.0, None, 6.5, 6.5)


def lines_of(case, stations=SEVEN):
    """What a straight edge laid along low, centre and high shows, and templates at both ends."""
    u = np.concatenate(([0.0], stations / LENGTH, [1.0]))
    found = []
    for name, at, end in (("low", NUT[0], ENDS[0]), ("centre", 0.0, 0.0), ("high", NUT[3], ENDS[3])):
        z = smooth(u, at + (end - at) * u, case)
        gap = z[0] * (1 - u) + z[-1] * u - z
        found.append(StraightEdge(name, (at, end), tuple(stations), tuple(gap[1:-1])))
    radius = {"flat_end": (42.0, 48.0), "lopsided": (43.0, 41.0)}.get(case, (42.0, 42.0))
    return found, [Template(0.0, radius[0]), Template(LENGTH, radius[1])]


def built_board(case, **more):
    lines, templates = lines_of(case)
    built = build_surface(lines, templates, [], LENGTH, HALF, None, 0.05, 0.5, **more)
    board = full_board(case)
    return built, replace(
        board, station_mm=built.station_mm, lateral_mm=built.lateral_mm, height_mm=built.height_mm
    )


CASES = ["deep", "flat_scoop", "round_middle", "flat_end", "lopsided"]


@pytest.mark.parametrize("case", CASES)
def test_built_heights_are_those_of_the_full_surface(case):
    """Between the lines to 0.015, beyond them (the arc goes on) to 0.03, at every place."""
    built, _ = built_board(case)
    truth = smooth(built.station_mm / LENGTH, built.lateral_mm, case)
    off = np.abs(built.height_mm - truth)
    assert off[:, 1:-1].max() < 0.015
    assert off.max() < 0.03


@pytest.mark.parametrize("case", CASES)
def test_three_lines_give_the_removal_of_the_full_surface(case):
    """Three lines of seven gaps and two radii: deepest and mean removal within 0.03 of the full surface's."""
    _, board = built_board(case)
    wish = replace(WISH, projection_loss_max_mm=2.0, least_mm=3.0)
    one, full = dress(board, wish), dress(full_board(case), wish)
    assert not full.blocked_by
    assert full.max_removal_mm > 0.02 or case == "deep"
    assert one.max_removal_mm == pytest.approx(full.max_removal_mm, abs=0.03)
    assert one.mean_removal_mm == pytest.approx(full.mean_removal_mm, abs=0.03)
    assert one.objective_mm == pytest.approx(full.objective_mm, abs=0.03)


def test_good_board_by_lines_needs_nothing():
    board = good_board(9, 7)
    u = np.concatenate(([0.0], SEVEN / LENGTH, [1.0]))
    lines = []
    for name, at, end in (("low", NUT[0], ENDS[0]), ("centre", 0.0, 0.0), ("high", NUT[3], ENDS[3])):
        full = good_board(541, 3)
        y = at + (end - at) * u
        rows = np.round(u * 540).astype(int)
        centre = full.height_mm[rows, 1]
        edge = full.lateral_mm[rows, 2]
        tilt = (full.height_mm[rows, 2] - full.height_mm[rows, 0]) / (2 * edge)
        z = centre + tilt * y - arc(42.0, y)
        gap = z[0] * (1 - u) + z[-1] * u - z
        lines.append(StraightEdge(name, (at, end), tuple(SEVEN), tuple(gap[1:-1])))
    built = build_surface(
        lines, [Template(0.0, 42.0), Template(LENGTH, 42.0)], [], LENGTH, HALF, None, 0.05, 0.5
    )
    board = replace(
        board, station_mm=built.station_mm, lateral_mm=built.lateral_mm, height_mm=built.height_mm
    )
    assert dress(board, WISH).objective_mm < 0.01


def test_a_template_in_the_middle_agrees_or_says_so():
    lines, templates = lines_of("round_middle")
    mid = [*templates, Template(LENGTH / 2, 38.0)]
    args = ([], LENGTH, HALF, None, 0.05, 0.5)
    assert build_surface(lines, mid, *args).template_off_mm < 0.02
    wrong = [*templates, Template(LENGTH / 2, 52.0)]
    assert build_surface(lines, wrong, *args).template_off_mm > 0.1


def test_own_zero_of_a_line():
    """A straight edge that stands off by the same everywhere, or is tipped, shows the same surface."""
    lines, templates = lines_of("deep")
    u = np.concatenate(([0.0], SEVEN / LENGTH, [1.0]))
    tipped = []
    for line in lines:
        gap = np.concatenate(([0.0], line.gap_mm, [0.0])) + 0.2 + 0.3 * u
        tipped.append(StraightEdge(line.name, line.lateral_mm, tuple(u * LENGTH), tuple(gap)))
    args = (templates, [], LENGTH, HALF, None, 0.05, 0.5)
    one, other = build_surface(lines, *args), build_surface(tipped, *args)
    assert other.height_mm == pytest.approx(one.height_mm, abs=1e-9)


def test_rocking_edge_is_a_hump():
    """Pressed at the nut it stands 0.4 off the end: a hump of 0.2 in the middle where it touches there."""
    lines, templates = lines_of("deep")
    hump = StraightEdge("low", lines[0].lateral_mm, (LENGTH / 2,), (0.0,), rocks_mm=0.4)
    hump = replace(hump, station_mm=(60.0, LENGTH / 2), gap_mm=(0.05, 0.0))
    built = build_surface([hump, *lines[1:]], templates, [], LENGTH, HALF, None, 0.05, 0.5)
    row = int(np.argmin(np.abs(built.station_mm - LENGTH / 2)))
    ends = built.height_mm[[0, -1], 1]
    assert built.height_mm[row, 1] - ends.mean() == pytest.approx(0.2, abs=1e-6)


def test_rocking_template_is_rounder():
    """At the half width the sagitta is greater by half of what it rocks."""
    radius = effective_radius(Template(0.0, 42.0, 0.2), 14.0)
    assert arc(radius, 14.0) == pytest.approx(arc(42.0, 14.0) + 0.1, abs=1e-9)


def test_groove_lies_below_the_straight_edge():
    lines, templates = lines_of("deep")
    groove = Groove(SEVEN[2], lines[0], lines[0].gap_mm[2] + 0.3)
    built = build_surface(lines, templates, [groove], LENGTH, HALF, None, 0.05, 0.5)
    row = int(np.argmin(np.abs(built.station_mm - SEVEN[2])))
    assert built.pit_height_mm[0] == pytest.approx(built.height_mm[row, 1] - 0.3, abs=1e-9)
    assert built.pit_lateral_mm[0] == pytest.approx(built.lateral_mm[row, 1])


def test_effects_of_readings():
    """A gap's own error is the height's error there; a template moves the ends of the outer lines by its
    slope.
    """
    lines, templates = lines_of("deep")
    effects = reading_effects(lines, templates, LENGTH, HALF, None, 0.05, 0.5)
    built = build_surface(lines, templates, [], LENGTH, HALF, None, 0.05, 0.5)
    row = int(np.argmin(np.abs(built.station_mm - SEVEN[3])))
    place = row * built.lateral_mm.shape[1] + 1  # the low line
    assert effects[place, 3] == pytest.approx(-0.05, abs=1e-9)
    end = (built.station_mm.size - 1) * built.lateral_mm.shape[1] + 1
    assert effects[end, -1] == pytest.approx(arc(42.0, ENDS[0]) - arc(42.5, ENDS[0]), abs=1e-4)
    assert effects.shape == (built.height_mm.size, 23)


@pytest.mark.parametrize(
    ("code", "change"),
    [
        ("dressing.one_line", lambda lines, t: (lines[:1], t)),
        ("dressing.no_template", lambda lines, t: (lines, [])),
        ("dressing.line_twice", lambda lines, t: ([lines[0], lines[0]], t)),
        (
            "dressing.few_gaps",
            lambda lines, t: ([replace(lines[0], station_mm=(50.0,), gap_mm=(0.4,)), lines[1]], t),
        ),
        (
            "dressing.out_of_order",
            lambda lines, t: ([replace(lines[0], station_mm=tuple(SEVEN[::-1])), lines[1]], t),
        ),
        ("dressing.off_the_board", lambda lines, t: (lines, [Template(300.0, 42.0)])),
        ("dressing.outside_arc", lambda lines, t: (lines, [Template(LENGTH, 14.0)])),
    ],
)
def test_nonsense_is_refused(code, change):
    lines, templates = change(*lines_of("deep"))
    with pytest.raises(Refusal) as said:
        build_surface(lines, templates, [], LENGTH, HALF, None, 0.05, 0.5)
    assert said.value.code == code
