"""The bench sheet of a day."""
