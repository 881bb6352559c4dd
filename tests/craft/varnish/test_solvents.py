"""Mixtures in the Teas triangle against the blends printed in Conservation DistList 1989/0040 (W. Henry)."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from purfling.craft.refusals import Refusal
from purfling.craft.varnish.solvents import (
    Fractions,
    SpotPoint,
    away,
    blended,
    checked,
    from_hansen,
    mixture,
    solvents,
    spots_near,
)

# Volume parts and the printed (D, P, H), as read there.
PRINTED = [
    ({"pentane": 71.3, "amyl_alcohol": 28.7}, (84.49, 3.73, 11.78)),
    ({"pentane": 69.0, "cyclohexanol": 31.0}, (84.49, 3.72, 11.79)),
    ({"hexane": 71.3, "amyl_alcohol": 28.7}, (84.49, 3.73, 11.78)),
    ({"hexane": 69.0, "cyclohexanol": 31.0}, (84.49, 3.72, 11.79)),
    ({"heptane": 71.3, "amyl_alcohol": 28.7}, (84.49, 3.73, 11.78)),
    ({"heptane": 69.0, "cyclohexanol": 31.0}, (84.49, 3.72, 11.79)),
    ({"ethylbenzene": 95.9, "methanol": 4.1}, (84.64, 3.79, 11.57)),
    ({"ethylbenzene": 95.3, "ethanol": 4.7}, (84.59, 3.71, 11.70)),
]
# The rows of the same page with propylene glycol: printed from a faulty input row.
FAULTY = [(86.49, 3.07, 12.29), (86.13, 3.60, 11.95)]


@pytest.mark.parametrize(("parts", "printed"), PRINTED)
def test_the_printed_blends(parts, printed):
    found = mixture(parts)
    # The parts are printed to 0.1 %: a share off by 0.05 % moves a fraction by at most 0.03.
    for ours, theirs in zip((found.dispersion, found.polar, found.hydrogen), printed, strict=True):
        assert ours == pytest.approx(theirs, abs=0.03)


@pytest.mark.parametrize("printed", FAULTY)
def test_the_faulty_rows_are_refused_by_the_sum(printed):
    with pytest.raises(Refusal) as refused:
        checked(Fractions(*printed), "propylene glycol blend")
    assert refused.value.code == "varnish.fractions_total"
    assert 101.5 < refused.value.params["total"] < 102.0


def test_the_faulty_rows_are_not_what_our_propylene_glycol_gives():
    found = mixture({"pentane": 79.5, "propylene_glycol": 20.5})
    assert found.total == pytest.approx(100.0, abs=1e-9)
    assert abs(found.hydrogen - 12.29) > 1.0


def test_every_row_totals_100_and_names_its_source():
    from purfling.craft.sources import all_sources as sources
    from purfling.craft.varnish.meets import kinds

    assert len(solvents()) > 25
    for key, row in solvents().items():
        assert row.fractions.total == pytest.approx(100.0, abs=1e-9), key
        assert row.source in sources(), key
        assert set(row.kinds) <= set(kinds()), key


def test_a_row_that_totals_101_is_refused_and_one_of_100_is_not():
    assert checked(Fractions(36, 18, 46)) == Fractions(36, 18, 46)
    with pytest.raises(Refusal):
        checked(Fractions(37, 18, 46))


def test_the_two_solvents_read_beside_carbon_tetrachloride():
    """The page gives o-xylene (83, 5, 12) and ethyl benzene (87, 3, 10) for (85, 2, 13)."""
    assert solvents()["xylene"].fractions == Fractions(83, 5, 12)
    assert away(solvents()["carbon_tetrachloride"].fractions, solvents()["xylene"].fractions) < 3.0
    assert away(solvents()["carbon_tetrachloride"].fractions, solvents()["ethanol"].fractions) > 40.0


def test_hansen_to_fractions():
    """Shares of three equal numbers; a pure dispersion liquid lies in the corner."""
    assert from_hansen(5, 5, 5) == Fractions(100 / 3, 100 / 3, 100 / 3)
    assert from_hansen(14.9, 0, 0) == Fractions(100, 0, 0)


def test_corners_are_100_apart_and_the_plane_keeps_distances():
    corners = [Fractions(100, 0, 0), Fractions(0, 100, 0), Fractions(0, 0, 100)]
    for a in corners:
        for b in corners:
            assert away(a, b) == pytest.approx(0 if a == b else 100)
    a, b = solvents()["acetone"].fractions, solvents()["toluene"].fractions
    assert math.dist(a.plane, b.plane) == pytest.approx(away(a, b))


volumes = st.floats(0.01, 1e4)
keys = st.sampled_from(sorted(solvents()))


@given(st.dictionaries(keys, volumes, min_size=1, max_size=5), st.floats(0.01, 100))
def test_a_mixture_totals_100_and_does_not_know_the_unit(parts, unit):
    found = mixture(parts)
    assert found.total == pytest.approx(100.0)
    scaled = mixture({k: v * unit for k, v in parts.items()})
    assert away(found, scaled) < 1e-6


@given(keys, keys, volumes, volumes)
def test_two_solvents_mix_on_the_straight_line_between_them(one, two, v, w):
    if one == two:
        return
    a, b = solvents()[one].fractions, solvents()[two].fractions
    found = mixture({one: v, two: w})
    assert away(a, found) + away(found, b) == pytest.approx(away(a, b), abs=1e-6)
    assert away(a, found) == pytest.approx(away(a, b) * w / (v + w), abs=1e-6)


@pytest.mark.parametrize(
    "parts", [{}, {"ethanol": 0}, {"ethanol": -1}, {"ethanol": math.nan}, {"unheard_of": 1}]
)
def test_bad_parts_are_refused(parts):
    with pytest.raises(Refusal):
        mixture(parts)


def test_a_test_near_by_is_named_and_harm_comes_first():
    ethanol, water = solvents()["ethanol"].fractions, solvents()["water"].fractions
    points = [
        SpotPoint(solvents()["isopropanol"].fractions, "nothing", "b"),
        SpotPoint(ethanol, "dissolved", "a"),
        SpotPoint(water, "nothing", "c"),
    ]
    found = spots_near(mixture({"ethanol": 95, "water": 5}), points)
    assert [t.point.record for t in found] == ["a", "b"]
    assert found[0].harmful and not found[1].harmful
    assert not found[0].same
    assert spots_near(ethanol, points)[0].same
    assert spots_near(solvents()["pentane"].fractions, points) == ()


def test_blended_refuses_a_part_that_does_not_total_100():
    with pytest.raises(Refusal):
        blended([(1.0, Fractions(36, 18, 46)), (1.0, Fractions(86.49, 3.07, 12.29))])
