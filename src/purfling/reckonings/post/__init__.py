"""The sound post: a move, its ends, the season, the map of tries."""
