"""Purfling: the service bench book and bench engine of a violin maker-restorer."""

__version__ = "0.1.0"
