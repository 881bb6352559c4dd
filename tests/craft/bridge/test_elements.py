"""The elements against closed forms, published numbers, another library, and laws that hold exactly."""

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
import skfem
from scipy.optimize import brentq
from scipy.special import j0, j1, y0, y1
from skfem.helpers import ddot, dot, sym_grad

from purfling.craft.bridge.elements import netted, node_points
from purfling.craft.bridge.mesh import meshed
from purfling.craft.bridge.modes import Feet, Plate, lowest, plate, vibrated
from purfling.craft.bridge.outline import drawn_outline
from purfling.craft.bridge.question import effective_top_mass
from purfling.craft.bridge.rings import Rings, checked_rings
from purfling.craft.bridge.thickness import thickness_by_rule
from purfling.craft.bridge.wood import Wood, stiffness
from tests.craft.bridge.conftest import MAPLE, bridge_plate, measures, rectangle

FREE = Feet(False, 1e-12)


def hz_of(bridge: Plate, free: np.ndarray, count: int, held: bool = False) -> np.ndarray:
    """Frequencies with other freedoms free than the feet ask for."""
    k, m = bridge.k[free][:, free].tocsc(), bridge.m[free][:, free].tocsc()
    return np.sqrt(np.maximum(lowest(k, m, count, held)[0], 0)) / (2 * math.pi)


def test_orthotropic_rectangle_without_tangential_motion_at_its_edges() -> None:
    # exact: u = U cos(kx) sin(ly), v = V sin(kx) cos(ly); 2 x 2 eigenproblem for each (m, n), sugar maple
    a, b = 30.0, 20.0
    bridge = bridge_plate(rectangle(a, b), foot=3, top=3, feet=FREE, boundary=1.0, inside=2.0)
    at, n = node_points(bridge.mesh.points, bridge.net), bridge.net.count
    on_x = np.abs(np.abs(at[:, 0]) - a / 2) < 1e-6
    on_y = (np.abs(at[:, 1]) < 1e-6) | (np.abs(at[:, 1] - b) < 1e-6)
    fixed = np.concatenate([np.flatnonzero(on_y), n + np.flatnonzero(on_x)])
    found = hz_of(bridge, np.setdiff1d(np.arange(2 * n), fixed), 4)
    # (1,0) and (0,1) are pure shear by themselves; the least values of the 2 x 2 problems:
    c = np.linalg.inv(
        np.array([[1 / 13860, -0.424 / 13860, 0], [-0.424 / 13860, 1 / 1829.52, 0], [0, 0, 1 / 1538.46]])
    )
    exact = []
    for i, j in ((1, 0), (0, 1), (1, 1)):
        k, el = i * math.pi / a, j * math.pi / b
        cross = (c[0, 1] + c[2, 2]) * k * el
        s = np.array(
            [[c[0, 0] * k * k + c[2, 2] * el * el, cross], [cross, c[1, 1] * el * el + c[2, 2] * k * k]]
        )
        allowed = [v for v in np.linalg.eigvalsh(s) if v > 0]
        exact.append(math.sqrt(min(allowed) / 705.6e-12) / (2 * math.pi))
    assert exact == pytest.approx([24610.05, 36915.08, 43480.59], rel=1e-5)
    for value in (24610.05, 36915.08, 43480.59):
        assert np.min(np.abs(found / value - 1)) < 2e-5


@pytest.mark.parametrize(
    ("clamped", "published"),
    [
        # Bardell, Langley and Dunsdon, J. Sound Vib. 191 (1996) 459 (from memory): omega a sqrt(rho
        # (1-nu^2)/E)
        (True, [3.555, 3.555, 4.235, 5.186, 5.859, 5.895]),
        (False, [2.321, 2.472, 2.472, 2.628, 2.987, 3.452]),
    ],
)
def test_square_plate_in_its_plane_as_published(clamped: bool, published: list[float]) -> None:
    steel = Wood(1000.0, 1000.0, 1000 / 2.6, 0.3, 1000.0)
    a = 20.0
    bridge = bridge_plate(rectangle(a, a), steel, 2, 2, FREE, 0.7, 1.4)
    at, n = node_points(bridge.mesh.points, bridge.net), bridge.net.count
    edge = (
        (np.abs(np.abs(at[:, 0]) - a / 2) < 1e-6) | (np.abs(at[:, 1]) < 1e-6) | (np.abs(at[:, 1] - a) < 1e-6)
    )
    fixed = np.concatenate([np.flatnonzero(edge), n + np.flatnonzero(edge)]) if clamped else np.array([], int)
    hz = hz_of(bridge, np.setdiff1d(np.arange(2 * n), fixed), 10)
    hz = hz[hz > 1.0][:6]
    found = 2 * math.pi * hz * a * math.sqrt(1000e-12 * (1 - 0.09) / 1000.0)
    assert found == pytest.approx(published, abs=0.0012)


def test_matrices_are_those_of_an_independent_library() -> None:
    rings = drawn_outline(measures())
    thickness = thickness_by_rule(rings, 4.3, 1.3, "height")  # linear: both libraries integrate it exactly
    bridge = plate(meshed(rings, 0.9, 2.0), MAPLE, thickness, Feet())
    mesh = skfem.MeshTri(bridge.mesh.points.T, bridge.mesh.triangles.T)
    basis = skfem.Basis(mesh, skfem.ElementVector(skfem.ElementTriP2()), intorder=6)
    c = stiffness(MAPLE)

    @skfem.BilinearForm
    def k_form(u, v, w):  # type: ignore[no-untyped-def]
        h = bridge.thickness.at(w.x[0], w.x[1])
        e, f = sym_grad(u), sym_grad(v)
        stress = [
            c[0, 0] * e[0, 0] + c[0, 1] * e[1, 1],
            c[0, 1] * e[0, 0] + c[1, 1] * e[1, 1],
            2 * c[2, 2] * e[0, 1],
        ]
        return h * ddot(np.array([[stress[0], stress[2]], [stress[2], stress[1]]]), f)

    @skfem.BilinearForm
    def m_form(u, v, w):  # type: ignore[no-untyped-def]
        return bridge.thickness.at(w.x[0], w.x[1]) * 705.6e-12 * dot(u, v)

    k, m = k_form.assemble(basis), m_form.assemble(basis)
    sole = basis.get_dofs(lambda x: np.abs(x[1]) < 0.02).all()
    free = np.setdiff1d(np.arange(k.shape[0]), sole)
    theirs = lowest(k[free][:, free].tocsc(), m[free][:, free].tocsc(), 6, True)[0]
    assert vibrated(bridge, 6).squares[:6] == pytest.approx(theirs, rel=1e-8)


def timoshenko_cantilever(length: float, depth: float, e: float, g: float, rho: float, kappa: float) -> float:
    """First frequency [Hz] of a clamped-free Timoshenko beam (T. C. Huang, J. Appl. Mech. 28 (1961) 579)."""
    inertia, area = depth**3 / 12, depth
    r2, s2 = inertia / (area * length**2), e * inertia / (kappa * area * g * length**2)

    def value(b: float) -> float:
        root = math.sqrt((r2 - s2) ** 2 + 4 / b**2)
        alpha, beta = math.sqrt((-(r2 + s2) + root) / 2), math.sqrt(((r2 + s2) + root) / 2)
        return (
            2
            + (b * b * (r2 - s2) ** 2 + 2) * math.cosh(b * alpha) * math.cos(b * beta)
            - b * (r2 + s2) / math.sqrt(1 - b * b * r2 * s2) * math.sinh(b * alpha) * math.sin(b * beta)
        )

    b = brentq(value, 0.5, 3.6)
    return b * math.sqrt(e * inertia / (rho * area)) / length**2 / (2 * math.pi)


def test_upright_bar_is_a_timoshenko_cantilever() -> None:
    steel = Wood(2000.0, 2000.0, 2000 / 2.6, 0.3, 800.0)
    bridge = bridge_plate(rectangle(6.0, 40.0), steel, 2, 2, boundary=0.6, inside=1.2)
    modes = vibrated(bridge)
    exact = timoshenko_cantilever(40.0, 6.0, 2000.0, 2000 / 2.6, 800e-12, 10 * 1.3 / (12 + 11 * 0.3))
    assert modes.kinds[0] == "rocking"
    assert modes.hz[0] == pytest.approx(exact, rel=2e-3)  # a clamped edge holds the width as well


def test_bar_of_tapering_thickness_against_bessel_functions() -> None:
    # u'' + h'/h u' + k^2 u = 0, h from 4.2 to 1.3 over 33: u = A J0(k h/s) + B Y0(k h/s), s = 2.9/33
    e, rho, s = 1829.52, 705.6e-12, 2.9 / 33
    wood = Wood(e, e, e / 2, 0.0, 705.6)
    bridge = bridge_plate(rectangle(2.0, 33.0), wood, 4.2, 1.3, boundary=0.5, inside=1.0)

    def value(k: float) -> float:
        foot, top = k * 4.2 / s, k * 1.3 / s
        return float(j0(foot) * y1(top) - y0(foot) * j1(top))

    ks = np.linspace(0.02, 0.1, 400)
    root = next(brentq(value, a, b) for a, b in pairwise(ks) if value(a) * value(b) < 0)
    modes = vibrated(bridge)
    assert modes.hz[modes.kinds.index("bouncing")] == pytest.approx(
        root * math.sqrt(e / rho) / (2 * math.pi), rel=1e-5
    )


def laws(rings: Rings, wood: Wood, foot: float, top: float, edge: float = 0.8) -> np.ndarray:
    return vibrated(bridge_plate(rings, wood, foot, top, boundary=edge, inside=2 * edge)).hz


def test_exact_laws_of_stiffness_density_thickness_and_size() -> None:
    rings = drawn_outline(measures())
    base = laws(rings, MAPLE, 4.3, 1.3)
    stiff = replace(MAPLE, EL_MPa=4 * 13860.0, ER_MPa=4 * 1829.52, GLR_MPa=4 * 1538.46)
    assert laws(rings, stiff, 4.3, 1.3) == pytest.approx(2 * base, rel=1e-7)
    assert laws(rings, replace(MAPLE, density_kg_m3=4 * 705.6), 4.3, 1.3) == pytest.approx(base / 2, rel=1e-7)
    assert laws(rings, MAPLE, 8.6, 2.6) == pytest.approx(base, rel=1e-7)
    large = Rings(2 * rings.outer, tuple(2 * h for h in rings.holes))
    assert laws(large, MAPLE, 4.3, 1.3, 1.6) == pytest.approx(base / 2, rel=1e-6)


def test_mirror_image_sounds_alike() -> None:
    rings = drawn_outline(measures())
    turn = np.array([-1.0, 1.0])
    mirrored = checked_rings((rings.outer * turn)[::-1], tuple((h * turn)[::-1] for h in rings.holes))
    base, other = laws(rings, MAPLE, 4.3, 1.3, 0.5), laws(mirrored, MAPLE, 4.3, 1.3, 0.5)
    assert other == pytest.approx(base, rel=2e-3)  # another mesh


def test_grain_turned_by_ninety_degrees_is_the_wood_with_its_directions_exchanged() -> None:
    rings = drawn_outline(measures())
    swapped = Wood(1829.52, 13860.0, 1538.46, 0.424 * 1829.52 / 13860.0, 705.6)
    assert laws(rings, replace(MAPLE, grain_deg=90.0), 4.3, 1.3) == pytest.approx(
        laws(rings, swapped, 4.3, 1.3), rel=1e-8
    )


def test_grain_at_an_angle_and_at_its_mirror_differ_only_by_mesh() -> None:
    rings = drawn_outline(replace(measures(), crown_tilt_mm=0.0))
    plus, minus = (laws(rings, replace(MAPLE, grain_deg=a), 4.3, 1.3, 0.5) for a in (30.0, -30.0))
    assert plus == pytest.approx(minus, rel=3e-3)
    assert abs(plus[0] / laws(rings, MAPLE, 4.3, 1.3, 0.5)[0] - 1) > 0.02


def test_eigenvalues_converge_with_the_fourth_power_of_the_element_size() -> None:
    # an isotropic square free to slide along its edges has smooth modes: no corner spoils the order
    steel = Wood(1000.0, 1000.0, 1000 / 2.6, 0.3, 1000.0)
    errors = []
    for edge in (4.0, 2.0, 1.0):
        bridge = bridge_plate(rectangle(20.0, 20.0), steel, 2, 2, FREE, edge, edge)
        at, n = node_points(bridge.mesh.points, bridge.net), bridge.net.count
        on_x = np.abs(np.abs(at[:, 0]) - 10) < 1e-6
        on_y = (np.abs(at[:, 1]) < 1e-6) | (np.abs(at[:, 1] - 20) < 1e-6)
        fixed = np.concatenate([np.flatnonzero(on_y), n + np.flatnonzero(on_x)])
        hz = hz_of(bridge, np.setdiff1d(np.arange(2 * n), fixed), 3)
        exact = math.sqrt(1000 / 2.6 / 1000e-12) * (math.pi / 20) / (2 * math.pi)
        errors.append(abs(hz[0] / exact - 1))
    orders = [math.log2(a / b) for a, b in pairwise(errors)]
    assert min(orders) > 3.3


def test_half_a_bridge_with_its_symmetry_is_the_whole() -> None:
    m = replace(measures(), crown_tilt_mm=0.0)
    rings = drawn_outline(m)
    whole = vibrated(bridge_plate(rings, boundary=0.4, inside=1.0))
    half_ring = _half(rings)
    half = checked_rings(half_ring)
    bridge = plate(meshed(half, 0.4, 1.0), MAPLE, thickness_by_rule(rings, 4.3, 1.3), Feet())
    at, n = node_points(bridge.mesh.points, bridge.net), bridge.net.count
    axis = np.flatnonzero(np.abs(at[:, 0]) < 1e-6)
    even = hz_of(bridge, np.setdiff1d(bridge.free, axis), 2, True)
    odd = hz_of(bridge, np.setdiff1d(bridge.free, n + axis), 2, True)
    assert odd[0] == pytest.approx(whole.hz[whole.kinds.index("rocking")], rel=2e-3)
    assert even[0] == pytest.approx(whole.hz[whole.kinds.index("bouncing")], rel=2e-3)


def _half(rings: Rings) -> np.ndarray:
    """The treble half of a symmetric bridge as one ring: outline, crown middle, down the axis round the
    heart."""
    outer, heart = rings.outer, rings.holes[0]
    right = outer[outer[:, 0] >= -1e-9]
    top = int(np.argmax(right[:, 1]))
    arch = next(k for k in range(len(right)) if abs(right[k, 0]) < 1e-9 and right[k, 1] < 20)
    order = np.roll(right, -(arch), axis=0)
    top = int(np.argmax(order[:, 1]))
    side = heart[heart[:, 0] >= -1e-9]
    side = side[np.argsort(np.arctan2(side[:, 0], side[:, 1] - 22.0))]
    return np.vstack([order[: top + 1] * [1, 1], [[0.0, order[top, 1]]], side])


def test_mass_matrix_holds_the_whole_mass(violin) -> None:  # type: ignore[no-untyped-def]
    rings, bridge, _ = violin
    from purfling.craft.bridge.section import weighed

    one = np.zeros(2 * bridge.net.count)
    one[: bridge.net.count] = 1
    tonnes = float(one @ (bridge.m @ one))
    assert tonnes * 1e6 == pytest.approx(weighed(bridge.mesh.rings, bridge.thickness, 705.6).mass_g, rel=1e-6)
    assert tonnes * 1e6 == pytest.approx(weighed(rings, bridge.thickness, 705.6).mass_g, rel=2e-3)


def test_springs_that_grow_stiff_become_clamped_feet() -> None:
    rings = drawn_outline(measures())
    clamped = vibrated(bridge_plate(rings, boundary=0.8, inside=2.0))
    stiff = vibrated(bridge_plate(rings, boundary=0.8, inside=2.0, feet=Feet(False, 1e8)))
    soft = vibrated(bridge_plate(rings, boundary=0.8, inside=2.0, feet=Feet(False, 1e2)))
    assert stiff.hz == pytest.approx(clamped.hz, rel=1e-3)
    assert (soft.hz[:3] < clamped.hz[:3]).all()


def test_a_rigid_body_on_springs_bounces_as_the_spring_law_says() -> None:
    stiff = Wood(1e7, 1e7, 4e6, 0.2, 1000.0)
    bridge = bridge_plate(rectangle(10.0, 10.0), stiff, 2, 2, Feet(False, 1.0), 1.0, 2.0)
    modes = vibrated(bridge)
    exact = math.sqrt(1.0 * 10 * 2 / (1000e-12 * 10 * 10 * 2)) / (2 * math.pi)
    assert modes.hz[modes.kinds.index("bouncing")] == pytest.approx(exact, rel=1e-4)


def test_participations_and_top_mass_of_a_slender_bar_are_those_of_the_beam() -> None:
    # shares in the giving way of the tip: bending 12 / 1.875104^4, pulling 8 / pi^2
    # (forces at points dent the edge a little); mass at the tip m / 4
    wood = Wood(2000.0, 2000.0, 1000.0, 0.0, 800.0)
    bridge = bridge_plate(rectangle(1.0, 60.0), wood, 2, 2, boundary=0.5, inside=0.5)
    modes = vibrated(bridge)
    assert modes.participation(modes.kinds.index("rocking")) == pytest.approx(12 / 1.875104**4, rel=2e-3)
    assert modes.participation(modes.kinds.index("bouncing")) == pytest.approx(8 / math.pi**2, rel=1e-2)
    assert effective_top_mass(bridge, modes) == pytest.approx(60 * 1.0 * 2 * 800e-6 / 4, rel=2e-3)


def test_the_numbering_of_sides_is_complete() -> None:
    mesh = meshed(drawn_outline(measures()), 0.8, 2.0)
    net = netted(mesh)
    corners, sides, triangles = len(mesh.points), len(net.sides), len(mesh.triangles)
    assert corners - sides + triangles == 0  # Euler: one body with one hole
    assert net.count == corners + sides
