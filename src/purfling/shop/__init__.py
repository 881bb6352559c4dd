"""The workshop's book: one Django app. See docs/book.md for where a new page, verb or record goes."""
