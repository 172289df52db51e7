"""Test records as text: from a table of readings, or blank, to be filled in."""
