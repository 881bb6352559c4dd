"""A set of strings: tensions, loads, afterlengths, gaps."""
