"""1:1 strips of the bow: camber, lapping, leather and thumb hollow."""
