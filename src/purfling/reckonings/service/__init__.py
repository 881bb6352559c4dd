"""The whole service of one object: set-up found and wished, template, work list on the bench hours."""
