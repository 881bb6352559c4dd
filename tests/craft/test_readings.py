"""The table of readings: complete rows, known by the slips, bands in order."""

import pytest

from purfling.craft.quantities import readings
from purfling.craft.sources import all_sources
from purfling.slips.known import known_tables

BOW = ("bow", "hair")  # tables of the bow bench


@pytest.mark.parametrize("key", list(readings()))
def test_row_is_whole(key: str) -> None:
    row = readings()[key]
    assert row.error > 0 and row.step > 0
    assert row.source in all_sources()
    low, high = row.hard_band(None)
    assert low < high
    for family in row.usual:
        for place in (0.0, 0.5, 1.0):
            band = row.usual_band(family, place)
            assert band is not None
            assert low <= band[0] < band[1] <= high


@pytest.mark.parametrize("key", [k for k in readings() if k.split(".")[0] not in BOW])
def test_reading_is_a_key_of_a_slip(key: str) -> None:
    table, name = key.split(".")
    assert name in known_tables()[table].keys


def test_cards_have_the_size_the_bench_wants() -> None:
    # A rehair card asks 3 to 5 fields: mass, balance, frog place, hair, and the room once per card.
    rehair = [r for r in readings().values() if "rehair" in r.cards]
    assert 3 <= len([r for r in rehair if not r.key.startswith("state")]) <= 5


def test_decimals_follow_the_step_of_the_gauge() -> None:
    assert readings()["nut.clearance_mm"].decimals == 2
    assert readings()["neck.projection_mm"].decimals == 2
    assert readings()["end.clearance_mm"].decimals == 1
    assert readings()["state.humidity_percent"].decimals == 0


def test_hard_range_is_0_3_to_3_times_the_usual() -> None:
    assert readings()["neck.projection_mm"].hard_band("violin") == (pytest.approx(7.8), pytest.approx(84.0))
