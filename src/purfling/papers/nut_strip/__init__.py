"""The nut's 1:1 strip on paper."""
