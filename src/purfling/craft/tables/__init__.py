"""Reference values as TOML rows, each with unit, source and how it is known."""
