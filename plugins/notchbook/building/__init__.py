"""Putting a finished site in the place of the one before it, whole or not at all."""
