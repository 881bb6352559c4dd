"""The bench as a scheduling problem."""
