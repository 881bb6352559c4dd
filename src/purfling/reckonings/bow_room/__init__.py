"""The bow's room over the strings and past the waist."""
