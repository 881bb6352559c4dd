"""The bridge on the screen: outline, mass, balance, modes, and what each cut does."""
