"""Handbooks of sound records, made up by simulation, and how many of them the check warns of."""
