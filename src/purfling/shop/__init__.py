"""The workshop's book: one Django app."""
