"""Dressing a fingerboard."""
