"""Forms: one file per noun. A form turns text into values; the domain verb takes them."""
