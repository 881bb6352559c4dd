"""The hand-over note."""
