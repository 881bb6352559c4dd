"""The set-up card: as found, wished, difference, loads, errors, sources; two views to scale."""
