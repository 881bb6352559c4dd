"""Varnish: solvents and mixtures, what meets what, water, drying clocks; what was seen, never a go-ahead."""
