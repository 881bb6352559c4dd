"""Pegs: travel, stand-out, string hole, when to bush."""
