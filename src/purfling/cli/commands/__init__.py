"""One file per command; each defines ``COMMAND``."""
