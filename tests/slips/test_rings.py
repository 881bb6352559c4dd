"""Rings from CSV, DXF and SVG: what is drawn is what is read; what is no drawing is refused."""

import contextlib
import io
import math
from pathlib import Path

import ezdxf
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from purfling.craft.bridge.rings import checked_rings, signed_area
from purfling.craft.refusals import Refusal
from purfling.slips.rings import placed_rings, read_rings, rings_from_csv, rings_to_csv
from purfling.slips.rings_dxf import rings_from_dxf
from purfling.slips.rings_svg import path_rings, rings_from_svg

SQUARE = [(0, 0), (20, 0), (20, 30), (0, 30)]


def area(ring: np.ndarray) -> float:
    return abs(signed_area(ring))


def dxf(draw, units: int | None = 4) -> bytes:  # type: ignore[no-untyped-def]
    document = ezdxf.new("R2010")
    if units is not None:
        document.header["$INSUNITS"] = units
    draw(document.modelspace())
    stream = io.StringIO()
    document.write(stream)
    return stream.getvalue().encode()


def svg(inside: str, head: str = 'width="60mm" height="60mm" viewBox="0 0 60 60"') -> str:
    return f'<svg xmlns="http://www.w3.org/2000/svg" {head}>{inside}</svg>'


def test_csv_round_trip() -> None:
    rings = checked_rings(np.array(SQUARE, float) - [10, 0], (np.array([[-2, 9], [2, 9], [0, 14.0]]),))
    again = rings_from_csv(rings_to_csv(rings), "r.csv")
    assert np.allclose(again[0], rings.outer) and np.allclose(again[1], rings.holes[0])


def test_csv_takes_spaces_empty_lines_and_a_byte_order_mark(tmp_path: Path) -> None:
    path = tmp_path / "r.csv"
    path.write_bytes(b"\xef\xbb\xbfring, x_mm, y_mm\r\n0,-10,0\r\n0,10,0\r\n\r\n0,0,30\r\n")
    assert read_rings(path).height == 30


@pytest.mark.parametrize(
    "text",
    [
        "ring,x_mm,y_mm\n0,1\n",
        "ring,x_mm,y_mm\n0,nan,1\n",
        "ring,x_mm,y_mm\n0,1,2,3\n",
        "ring,x_mm,y_mm\n-1,0,0\n",
    ],
)
def test_broken_rows_are_refused_with_their_line(text: str) -> None:
    with pytest.raises(Refusal, match=r"bad_row.*2"):
        rings_from_csv(text, "r.csv")


def test_dxf_polyline_circle_and_joined_lines() -> None:
    def draw(space) -> None:  # type: ignore[no-untyped-def]
        space.add_lwpolyline(SQUARE, close=True)
        space.add_circle((10, 15), 4)
        space.add_line((5, 5), (8, 5))
        space.add_line((8, 8), (8, 5))  # drawn the other way round
        space.add_line((8, 8), (5, 5))

    rings = rings_from_dxf(dxf(draw), "r.dxf")
    assert sorted(area(r) for r in rings) == pytest.approx([4.5, math.pi * 16, 600], rel=2e-3)


def test_dxf_bulges_and_splines_are_followed() -> None:
    def draw(space) -> None:  # type: ignore[no-untyped-def]
        space.add_lwpolyline([(0, 0, 1), (10, 0, 1)], format="xyb", close=True)  # two half circles

    (ring,) = rings_from_dxf(dxf(draw), "r.dxf")
    assert area(ring) == pytest.approx(math.pi * 25, rel=2e-3)


def test_dxf_in_inches_is_read_in_millimetres() -> None:
    (ring,) = rings_from_dxf(
        dxf(lambda s: s.add_lwpolyline([(0, 0), (1, 0), (1, 1), (0, 1)], close=True), 1), "r"
    )
    assert area(ring) == pytest.approx(25.4**2)


def test_open_lines_alone_are_no_drawing() -> None:
    with pytest.raises(Refusal, match="no_drawing"):
        rings_from_dxf(dxf(lambda s: s.add_line((0, 0), (5, 5))), "r.dxf")
    with pytest.raises(Refusal, match="no_drawing"):
        rings_from_svg(svg('<path d="M0 0 L10 10"/>'), "r.svg")


def test_a_drawing_is_set_down_on_the_foot_line() -> None:
    rings = placed_rings(
        [np.array([[102, 55], [106, 55], [104, 60.0]]), np.array(SQUARE, float) + np.array([94, 50])], "r"
    )
    assert rings.outer[:, 1].min() == 0 and rings.height == 30
    assert rings.outer[:, 0].min() == -10 and len(rings.holes) == 1


@pytest.mark.parametrize(
    ("shape", "expected"),
    [
        ('<rect x="1" y="2" width="10" height="20"/>', 200.0),
        ('<circle cx="9" cy="9" r="5"/>', math.pi * 25),
        ('<ellipse cx="9" cy="9" rx="5" ry="3"/>', math.pi * 15),
        ('<polygon points="0,0 10,0 10,5"/>', 25.0),
        ('<path d="M0 0h10v5H0z"/>', 50.0),
        ('<path d="M0 0 A5 5 0 0 1 6 0 Z"/>', 25 * math.acos(0.8) - 12),
        ('<path d="M0 0 A5 5 0 1 1 6 0 Z"/>', 25 * (math.pi - math.acos(0.8)) + 12),
        ('<path d="M0 0 A5 5 0 0 0 6 0 Z"/>', 25 * math.acos(0.8) - 12),
        ('<path d="M0 0 A5 5 0 1 0 6 0 Z"/>', 25 * (math.pi - math.acos(0.8)) + 12),
        ('<path d="m 10,10 l 10,0 0,10 -10,0 z"/>', 100.0),
        ('<path d="M0 5 A5 5 0 0 1 10 5 A5 5 0 0 1 0 5 Z"/>', math.pi * 25),
        ('<path d="M0 5a5 5 0 0110 0a5 5 0 01-10 0z"/>', math.pi * 25),
        ('<path d="M0 0 C0 0 10 0 10 0 S 10 10 10 10 Q10 10 0 10 T 0 0 Z"/>', 100.0 + 100 / 3),
        (
            '<g transform="translate(5 5) scale(2)"><rect width="3" height="4" transform="rotate(30)"/></g>',
            48.0,
        ),
        ('<g transform="matrix(0 1 -1 0 20 0)"><rect width="3" height="4"/></g>', 12.0),
    ],
)
def test_svg_shapes_have_their_areas(shape: str, expected: float) -> None:
    (ring,) = rings_from_svg(svg(shape), "r.svg")
    assert area(ring) == pytest.approx(expected, rel=2e-3)


def test_svg_is_turned_over_and_scaled_by_its_page() -> None:
    (ring,) = rings_from_svg(
        svg('<path d="M0 0 L10 0 L5 10 Z"/>', 'width="2cm" viewBox="0 0 10 10"'), "r.svg"
    )
    assert area(ring) == pytest.approx(200)
    assert ring[np.argmin(ring[:, 1])] == pytest.approx([10, -20])
    (bare,) = rings_from_svg(svg('<rect width="96" height="96"/>', ""), "r.svg")
    assert area(bare) == pytest.approx(25.4**2)


def test_svg_definitions_and_hidden_shapes_are_passed_over() -> None:
    inside = '<defs><rect width="50" height="50"/></defs><rect width="5" height="5" display="none"/>'
    inside += '<rect width="2" height="2"/>'
    assert [area(r) for r in rings_from_svg(svg(inside), "r.svg")] == pytest.approx([4.0])


@pytest.mark.parametrize(
    "text",
    [
        "",
        "no svg",
        "<html/>",
        '<!DOCTYPE svg [<!ENTITY a "b">]><svg xmlns="http://www.w3.org/2000/svg"/>',
        svg('<path d="M0 0 A5 5 0 x 1 10 5 Z"/>'),
        svg("<g>" * 5),
    ],
)
def test_what_is_no_svg_is_refused(text: str) -> None:
    with pytest.raises(Refusal, match="no_drawing"):
        rings_from_svg(text, "r.svg")


@given(st.text(alphabet="MmLlHhVvCcSsQqTtAaZz0123456789.,- e", max_size=60))
def test_any_path_is_read_or_refused_with_a_value_error(d: str) -> None:
    with contextlib.suppress(ValueError, IndexError):
        path_rings(d)


@given(st.binary(max_size=200))
def test_any_bytes_are_a_dxf_or_refused(data: bytes) -> None:
    with pytest.raises(Refusal):
        rings_from_dxf(data, "r.dxf")
