"""The cuts: signs of the usual ones, agreement with solving again, closed forms, refusals."""

import math
from dataclasses import replace

import numpy as np
import pytest

from purfling.craft.bridge.cuts import Morph, effects, solved_again
from purfling.craft.bridge.mesh import quality
from purfling.craft.bridge.modes import Modes, Plate, vibrated
from purfling.craft.bridge.outline import drawn_outline
from purfling.craft.bridge.rings import Rings
from purfling.craft.bridge.section import weighed
from purfling.craft.bridge.shaving import PLACES, Cut, moved_edge
from purfling.craft.bridge.wood import Wood
from purfling.craft.refusals import Refusal
from tests.craft.bridge.conftest import bridge_plate, measures, rectangle

USUAL = tuple(
    Cut(place, amount, place) for place, amount in zip(PLACES, (0.5, 0.25, 0.5, 0.5, 0.3, 0.5), strict=True)
)
Violin = tuple[Rings, Plate, Modes]


def test_usual_cuts_have_the_signs_the_bench_knows(violin: Violin) -> None:
    # Jansson, Fryden and Mattsson; Rodgers and Masino: directions of the usual cuts
    rings, bridge, modes = violin
    found, absent = effects(bridge, modes, rings, USUAL, 16.6)
    assert absent == []
    rocking = {e.name: e.rocking_percent for e in found}
    bouncing = {e.name: e.bouncing_percent for e in found}
    for place in ("waist", "heart", "ankles"):
        assert rocking[place] < -0.3
    assert rocking["top"] > 1 and bouncing["top"] > 0.5
    assert all(e.mass_mg < -1 for e in found)
    assert bouncing["ankles"] < -1  # the ankles carry the bouncing
    assert abs(rocking["waist"]) > 2 * abs(bouncing["waist"])  # the waist carries the rocking


def test_one_solve_says_what_solving_again_says(violin: Violin) -> None:
    rings, bridge, modes = violin
    found, _ = effects(bridge, modes, rings, USUAL, None)
    morph = Morph(bridge.mesh)
    for cut, effect in zip(USUAL, found, strict=True):
        points = bridge.mesh.points + morph.spread(moved_edge(bridge.mesh, cut))
        rocking, bouncing = solved_again(bridge, modes, points)
        assert effect.method == "sensitivity"
        assert effect.rocking_percent == pytest.approx(rocking, abs=0.01)
        assert effect.bouncing_percent == pytest.approx(bouncing, abs=0.01)


@pytest.mark.full
def test_a_new_mesh_of_the_cut_outline_says_the_same_but_for_its_noise(violin: Violin) -> None:
    rings, bridge, modes = violin
    found, _ = effects(bridge, modes, rings, USUAL, None)
    morph = Morph(bridge.mesh)
    for cut, effect in zip(USUAL, found, strict=True):
        points = bridge.mesh.points + morph.spread(moved_edge(bridge.mesh, cut))
        rocking, bouncing = solved_again(bridge, modes, points, remesh=True)
        assert effect.rocking_percent == pytest.approx(rocking, abs=0.2)
        assert effect.bouncing_percent == pytest.approx(bouncing, abs=0.2)


def test_deep_cut_is_solved_anew(violin: Violin) -> None:
    rings, bridge, modes = violin
    (deep,), _ = effects(bridge, modes, rings, (Cut("waist", 2.0, "deep"),))
    assert deep.method == "solved"
    (half,), _ = effects(bridge, modes, rings, (Cut("waist", 1.0, "half"),))
    assert deep.rocking_percent < 2 * half.rocking_percent < 0  # bending stiffness falls with the cube


def test_small_cuts_are_proportional_to_their_depth(violin: Violin) -> None:
    rings, bridge, modes = violin
    for place in PLACES:
        (one, two), _ = effects(bridge, modes, rings, (Cut(place, 0.01, "a"), Cut(place, 0.02, "b")))
        assert two.rocking_percent == pytest.approx(2 * one.rocking_percent, rel=0.05)
        assert two.mass_mg == pytest.approx(2 * one.mass_mg, rel=0.05)


def test_first_order_is_the_energy_on_the_edge(violin: Violin) -> None:
    # a law of its own: d(omega^2) = - closed integral of a (2 W - omega^2 rho u^2) h ds, here by K and M
    # of a sliver
    _, bridge, modes = violin
    cut = Cut("waist", 0.004, "waist")
    shift = Morph(bridge.mesh).spread(moved_edge(bridge.mesh, cut))
    from purfling.craft.bridge.modes import plate

    after = plate(
        bridge.mesh, bridge.wood, bridge.thickness, bridge.feet, bridge.mesh.points + shift, bridge.net
    )
    k = modes.number("rocking")
    v = modes.shapes[:, k]
    change = float(v @ ((after.k - bridge.k) @ v) - modes.squares[k] * (v @ ((after.m - bridge.m) @ v)))
    (effect,), _ = effects(bridge, modes, bridge.mesh.rings, (cut,))
    assert effect.rocking_percent == pytest.approx(50 * change / modes.squares[k], rel=0.02)


def test_lower_cantilever_follows_its_length_law() -> None:
    steel = Wood(2000.0, 2000.0, 2000 / 2.6, 0.3, 800.0)
    rings = rectangle(3.0, 40.0)
    bridge = bridge_plate(rings, steel, 2, 2, boundary=0.4, inside=0.8)
    modes = vibrated(bridge)
    (effect,), _ = effects(bridge, modes, rings, (Cut("top", 1.0, "top"),))
    assert effect.rocking_percent == pytest.approx(100 * ((40 / 39) ** 2 - 1), rel=0.01)
    assert effect.bouncing_percent == pytest.approx(100 * (40 / 39 - 1), rel=0.01)
    assert effect.mass_mg == pytest.approx(-1.0 * 3 * 2 * 800e-3, rel=1e-6)
    fresh = vibrated(bridge_plate(rectangle(3.0, 39.0), steel, 2, 2, boundary=0.4, inside=0.8))
    assert effect.rocking_percent == pytest.approx(100 * (fresh.hz[0] / modes.hz[0] - 1), abs=0.01)


def test_top_cut_leaves_the_outline_of_the_lowered_crown(violin: Violin) -> None:
    _, bridge, _ = violin
    shift = moved_edge(bridge.mesh, Cut("top", 1.0, "top"))
    moved = bridge.mesh.points + shift
    loop = bridge.mesh.loops[0]
    new, old = moved[loop], bridge.mesh.points[loop]
    assert new[:, 1].max() == pytest.approx(old[:, 1].max() - 1.0, abs=0.01)
    still = np.hypot(*shift[loop].T) < 1e-12
    assert still.sum() > 0.6 * len(loop)
    assert quality(moved, bridge.mesh.triangles).min() > -1  # the ring alone moved; Morph follows


def test_mass_after_a_cut_balances(violin: Violin) -> None:
    rings, bridge, modes = violin
    (effect,), _ = effects(bridge, modes, rings, (Cut("heart", 0.5, "heart"),), 16.6)
    whole = weighed(rings, bridge.thickness, 705.6)
    assert effect.after.mass_g == pytest.approx(whole.mass_g + effect.mass_mg / 1000, rel=1e-9)
    assert effect.above.mass_g + effect.below.mass_g == pytest.approx(effect.after.mass_g, rel=1e-9)
    assert effect.after.centre_mm[1] < whole.centre_mm[1]


def test_places_that_an_outline_does_not_have_are_left_out() -> None:
    rings = rectangle(20.0, 30.0)
    bridge = bridge_plate(rings, boundary=1.0, inside=2.0)
    modes = vibrated(bridge)
    found, absent = effects(bridge, modes, rings, tuple(replace(c, amount_mm=0.2) for c in USUAL))
    assert [e.name for e in found] == ["top"]
    assert [c.name for c in absent] == ["waist", "ankles", "heart", "kidneys", "feet"]


@pytest.mark.parametrize(
    ("place", "amount"), [("waist", 7.0), ("ankles", 2.5), ("feet", 1.0), ("heart", 6.0)]
)
def test_cuts_deeper_than_the_wood_are_refused(violin: Violin, place: str, amount: float) -> None:
    rings, bridge, modes = violin
    with pytest.raises(Refusal, match=r"cut_too_deep|cut_through"):
        effects(bridge, modes, rings, (Cut(place, amount, place),))  # type: ignore[arg-type]


def test_progress_is_told_before_each_cut(violin: Violin) -> None:
    rings, bridge, modes = violin
    heard: list[tuple[str, int, int]] = []
    effects(bridge, modes, rings, USUAL[:2], None, lambda *words: heard.append(words))
    assert heard == [("waist", 1, 2), ("ankles", 2, 2)]


def test_cello_cuts_have_the_same_signs() -> None:
    rings = drawn_outline(measures("cello"))
    bridge = bridge_plate(rings, foot=11, top=2.5, boundary=0.9, inside=2.7)
    modes = vibrated(bridge)
    found, _ = effects(bridge, modes, rings, tuple(replace(c, amount_mm=2 * c.amount_mm) for c in USUAL))
    rocking = {e.name: e.rocking_percent for e in found}
    assert all(rocking[p] < 0 for p in ("waist", "ankles", "heart")) and rocking["top"] > 0
    assert math.isfinite(sum(e.mass_mg for e in found))
