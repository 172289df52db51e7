"""Readings to results: a record with its rig, method and verification in; energies, strengths and sets out."""
