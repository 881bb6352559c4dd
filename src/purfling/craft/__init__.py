"""The trade's computations: plain functions over plain numbers (mm, N, degrees, g)."""
