"""Outlines of our own drawing: true to the dimensions given, and marks that outlive other dimensions."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from purfling.drawing.drawings.chart_layout import chart_layout, closer_layout
from purfling.drawing.drawings.chart_sheet import ChartMark, chart_sheet
from purfling.drawing.drawings.object_outlines import object_shape, object_views, view_names
from purfling.drawing.shapes import Circle, Group, Path, Text, flatten

SHAPES = [
    object_shape("violin"),
    object_shape("violin", length=353.0, upper=163.0, lower=204.0, stop=193.0),
    object_shape("viola", length=418.0),
    object_shape("cello"),
    object_shape("violin", length=290.0),  # a half size
    object_shape("violin", is_bow=True),
    object_shape("cello", is_bow=True, length=712.0),
]


@pytest.mark.parametrize("s", [s for s in SHAPES if not s.is_bow], ids=str)
def test_the_outline_has_the_dimensions_given(s):
    """Measured as on the instrument: length, both bouts, waist, stop at the nicks."""
    edge = object_views(s)["front"].edges[0]
    ys = [y for _, y in edge]
    assert max(ys) - min(ys) == pytest.approx(s.length, abs=0.2)
    treble = [(x, y) for x, y in edge if x > 0]
    half = s.length / 2
    assert 2 * max(x for x, y in treble if y < half * 0.8) == pytest.approx(s.lower, abs=0.3)
    assert 2 * max(x for x, y in treble if y > half * 1.45) == pytest.approx(s.upper, abs=0.3)
    waist = min(x for x, y in treble if 0.42 * s.length < y < 0.62 * s.length)
    assert 2 * waist == pytest.approx(s.middle, abs=0.6)
    _, v = object_views(s)["front"].warp.to_unit(0.0, s.length - s.stop)
    assert v == pytest.approx(1 - 195.0 / 355.0)  # the nick's height of the template


@pytest.mark.parametrize("s", SHAPES, ids=str)
@given(u=st.floats(-1, 1), v=st.floats(0, 1))
def test_there_and_back_again(s, u, v):
    for view in object_views(s).values():
        x, y = view.warp.to_mm(u, v)
        assert view.warp.to_unit(x, y) == pytest.approx((u, v), abs=1e-9)


def test_a_mark_at_an_edge_or_a_nick_stays_there_when_the_dimensions_are_put_right():
    before = object_shape("violin", length=355.0)
    after = object_shape("violin", length=361.5, upper=171.0, lower=211.0, stop=197.5)
    then, now = object_views(before)["front"], object_views(after)["front"]
    for i in range(0, len(then.edges[0]), 7):
        unit = then.warp.to_unit(*then.edges[0][i])
        assert now.warp.to_mm(*unit) == pytest.approx(now.edges[0][i], abs=1e-9)
    nick = then.warp.to_unit(36.0, 355.0 - 195.0)
    assert now.warp.to_mm(*nick)[1] == pytest.approx(361.5 - 197.5)


def test_bass_stays_bass_seen_from_the_front_and_from_behind():
    views = object_views(object_shape("violin"))
    assert views["front"].warp.to_mm(-0.5, 0.2)[0] < 0 < views["back"].warp.to_mm(-0.5, 0.2)[0]


def test_a_run_along_the_edge_is_as_long_as_the_edge():
    """The lower bout of a circle-like edge is longer than its chord and at most half a circle over it."""
    view = object_views(object_shape("violin"))["front"]
    a, b = view.warp.to_unit(103.5, 72.0), view.warp.to_unit(60.0, 4.0)
    chord = math.dist((103.5, 72.0), (60.0, 4.0))
    run = view.length((a, b), along_edge=True)
    assert chord < run < chord * math.pi / 2
    assert view.length((a, b), along_edge=False) == pytest.approx(chord, rel=1e-6)
    # across the seam of the closed line, the shorter way round the lower edge
    c, d = view.warp.to_unit(8.0, 0.1), view.warp.to_unit(-8.0, 0.1)
    assert view.length((c, d), along_edge=True) == pytest.approx(16.0, abs=0.5)


@pytest.mark.parametrize("s", SHAPES, ids=str)
def test_no_two_views_overlap_and_all_lie_on_the_sheet(s):
    sheet = chart_layout(s)
    assert {p.view.name for p in sheet.places} == set(view_names(s.is_bow))
    boxes = [p.box for p in sheet.places]
    for i, a in enumerate(boxes):
        assert a[0] >= 0 and a[1] >= 0 and a[2] <= sheet.width and a[3] <= sheet.height, sheet.places[
            i
        ].view.name
        for b in boxes[i + 1 :]:
            assert a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]


@pytest.mark.parametrize("s", SHAPES, ids=str)
def test_a_touch_finds_its_view_and_place(s):
    for sheet in (chart_layout(s), *(closer_layout(s, n) for n in view_names(s.is_bow))):
        for place in sheet.places:
            x0, y0, x1, y1 = place.box
            x, y = x0 + 0.4 * (x1 - x0), y0 + 0.6 * (y1 - y0)
            name, u, v = sheet.locate(x, y)
            assert name == place.view.name
            assert place.on_sheet(u, v) == pytest.approx((x, y))
    assert chart_layout(s).locate(-50.0, -50.0) is None


def test_numbers_do_not_lie_on_each_other_on_a_full_chart():
    s = object_shape("violin")
    marks = [
        ChartMark(i + 1, ("front", "back")[i % 2], ((0.1 * (i % 7) - 0.3, 0.3 + 0.02 * (i // 7)),))
        for i in range(40)
    ]
    drawing = chart_sheet(chart_layout(s), marks, size=6.4)
    heads = [
        next(c for c in g.items if isinstance(c, Circle))
        for g in drawing.items
        if isinstance(g, Group) and g.name.startswith("mark-")
    ]
    assert len(heads) == 40
    for i, a in enumerate(heads):
        for b in heads[i + 1 :]:
            assert math.dist((a.cx, a.cy), (b.cx, b.cy)) > a.radius * 1.5
    said = {t.text for t in flatten(drawing.items) if isinstance(t, Text)}
    assert {str(n) for n in range(1, 41)} <= said


def test_every_standing_has_its_own_shape_not_only_its_colour():
    s = object_shape("violin")
    found = {}
    for standing in ("known", "new", "uncovered", "gone"):
        drawing = chart_sheet(chart_layout(s), [ChartMark(1, "front", ((0.2, 0.3),), "edge", standing)])
        group = next(g for g in drawing.items if isinstance(g, Group) and g.name == "mark-1")
        head = group.items[1]
        found[standing] = (type(head).__name__, head.fill, bool(head.pen.dash))
    assert len(set(found.values())) == 4


def test_outlines_are_closed_smooth_lines():
    for s in SHAPES:
        for view in object_views(s).values():
            for item in view.items:
                assert isinstance(item, Path)
                assert all(math.isfinite(c) for p in item.points for c in p)
