"""The lapping of a bow."""
