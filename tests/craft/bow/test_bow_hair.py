"""Hair against printed hygrometer figures, counted masses, and laws."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from purfling.craft.bow.hair import (
    STRAIN_HIGH,
    STRAIN_LOW,
    hair_count,
    hair_mass_g,
    scale_share,
    season,
    whole_strain,
    wished_eye_place,
)


def test_human_hair_lengthens_2_to_2_5_percent() -> None:
    # American Meteorological Society, Glossary, hair hygrometer: 2 to 2.5 percent from 0 to 100 percent.
    for strain, want in ((STRAIN_LOW, 13.0), (STRAIN_HIGH, 16.25)):
        dry = season(650.0, "dry", 0.0, 0.0, 100.0, strain)
        assert dry.swing_mm == pytest.approx(want)


def test_scale_of_gay_lussac() -> None:
    printed = [0.209, 0.388, 0.528, 0.637, 0.728, 0.792, 0.852, 0.905, 0.954, 1.0]
    assert [scale_share(10.0 * (i + 1)) for i in range(10)] == pytest.approx(printed)
    assert scale_share(0.0) == 0.0


def test_tied_wet_is_3_5_to_4_5_mm_longer_than_tied_dry_at_50_percent() -> None:
    wet, dry = (
        [season(650.0, t, 50.0, 35.0, 65.0, s) for s in (STRAIN_LOW, STRAIN_HIGH)] for t in ("wet", "dry")
    )  # type: ignore[arg-type]
    low, high = (w.tie_length_mm - d.tie_length_mm for w, d in zip(wet, dry, strict=True))
    assert 3.4 < low < 3.6
    assert 4.4 < high < 4.6
    # To 35 percent: 5.4 to 6.8 mm.
    assert [
        season(650.0, "wet", 35.0, 35.0, 65.0, s).shrink_mm for s in (STRAIN_LOW, STRAIN_HIGH)
    ] == pytest.approx([5.4, 6.8], abs=0.05)


def test_season_of_35_to_65_percent_is_3_1_to_3_9_mm() -> None:
    found = [season(650.0, "dry", 50.0, 35.0, 65.0, s).swing_mm for s in (STRAIN_LOW, STRAIN_HIGH)]
    assert found == pytest.approx([3.1, 3.9], abs=0.05)


@given(st.floats(500, 800), st.floats(20, 45), st.floats(45, 60), st.floats(60, 90), st.floats(0.005, 0.04))
def test_both_directions_make_the_swing(
    length: float, dry: float, now: float, damp: float, strain: float
) -> None:
    year = season(length, "wet", now, dry, damp, strain)
    assert year.shorter_mm + year.longer_mm == pytest.approx(year.swing_mm)
    assert year.tie_length_mm == pytest.approx(length + year.shrink_mm)
    twice = season(2 * length, "wet", now, dry, damp, strain)
    assert twice.swing_mm == pytest.approx(2 * year.swing_mm)


def test_a_coefficient_per_percent_is_the_slope_between_35_and_65() -> None:
    # 650 mm, 0.0002 per percent, 30 percent: 3.9 mm, whatever the scale does elsewhere.
    assert season(650.0, "dry", 50.0, 35.0, 65.0, whole_strain(0.0002)).swing_mm == pytest.approx(3.9)
    # The means of 0.0002 to 0.00025 per percent and 2 to 2.5 percent from dry to wet are one thing, roughly.
    assert whole_strain(0.0002) == pytest.approx(0.025, rel=0.01)
    assert whole_strain(0.0225) == 0.0225


@pytest.mark.parametrize(("count", "mass"), [(150, 3.98), (170, 4.51), (180, 4.78), (200, 5.31)])
def test_hanks_weigh_as_counted(count: int, mass: float) -> None:
    # 0.2 mm, 650 mm, 1.3 g/cm3: 26.5 mg each; published hanks of a violin bow weigh 4 to 5 g.
    assert hair_mass_g(count, 0.2, 650.0) == pytest.approx(mass, abs=0.005)
    assert hair_count(mass, 0.2, 650.0) == pytest.approx(count, rel=0.002)


def test_eye_place_shares_the_spare_room() -> None:
    place = wished_eye_place(14.0, 2.4, 1.1, 4.5)
    assert place - 2.4 == pytest.approx(14.0 - place - 1.1 - 4.5)
