"""What follows from a change of board, clearance, projection or strings."""
