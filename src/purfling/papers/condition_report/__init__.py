"""The condition report: outlines to scale with numbered marks, table, photographs, opinion apart."""
