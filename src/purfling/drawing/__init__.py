"""Geometry in millimetres -> Drawing -> SVG, PDF, DXF."""
