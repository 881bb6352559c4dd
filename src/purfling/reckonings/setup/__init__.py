"""The set-up reckoning: a card, as found or as wished, and the difference between the two."""
