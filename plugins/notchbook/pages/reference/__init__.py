"""Pages that things are looked up in: checks, methods, keys, values."""
