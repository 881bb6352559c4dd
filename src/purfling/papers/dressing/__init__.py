"""The sheets of a dressing: removal map, long section, planing order, 1:1 templates."""
