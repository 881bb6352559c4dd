"""The bench plan as a reckoning."""
