"""A handbook of one's own: every file that it begins with."""
