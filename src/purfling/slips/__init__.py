"""The input files: the ONE door for input, from text to the dataclasses of craft and planning."""
