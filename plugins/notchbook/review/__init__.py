"""What changed between a revision of the handbook and the files as they are now, for whoever reviews it."""
