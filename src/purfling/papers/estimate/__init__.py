"""The estimate: lines, options, risks, what is not included, how long it stands."""
