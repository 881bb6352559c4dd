"""Speed, measured as ratios in one run; never part of the tests."""
