"""Sets of plausible readings for practice without a rig, with a key; each is marked as invented all over."""
