"""An invented shop in an invented town, made through the verbs of the book, the same for the same seed."""
