"""The bridge as a computed object: outline, thickness, mass, modes, cuts, lean."""
