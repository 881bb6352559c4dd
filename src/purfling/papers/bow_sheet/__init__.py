"""The bow sheet: what a bow was and what was done to it."""
