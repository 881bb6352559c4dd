"""The nut: groove places, depths, edge margins, strip."""
