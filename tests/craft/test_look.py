"""The fingerprint of what a picture shows: steady under light, far apart for other things."""

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from purfling.craft.look import ALIKE, look_distance, look_of

GREYS = st.lists(st.lists(st.integers(0, 200), min_size=9, max_size=9), min_size=8, max_size=8)


@given(GREYS, st.floats(0.3, 2.0), st.floats(-40, 40))
def test_exposure_and_contrast_do_not_change_it(rows, gain, offset):
    brighter = [[gain * v + offset for v in row] for row in rows]
    assert look_distance(look_of(rows), look_of(brighter)) <= 2  # rounding of equal neighbours


def test_bits_are_counted():
    assert look_distance("00000000000000ff", "0000000000000000") == 8
    flat = [[5.0] * 9] * 8
    falling = [list(range(9, 0, -1))] * 8
    assert look_distance(look_of(flat), look_of(falling)) == 64


def test_other_pictures_are_farther_apart_than_alike():
    """Independent pictures differ in 32 +- 4 of 64 bits; 10 is more than five deviations below."""
    dice = np.random.default_rng(0)
    looks = [look_of(dice.random((8, 9)).tolist()) for _ in range(60)]
    apart = [look_distance(a, b) for i, a in enumerate(looks) for b in looks[i + 1 :]]
    assert min(apart) > ALIKE
    assert 31 < np.mean(apart) < 33
