"""The verbs of the book: ``verb_noun(*, ...)``, with guards, one transaction, its history inside."""
