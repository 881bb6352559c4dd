"""Room against swing of every string, open and stopped."""
