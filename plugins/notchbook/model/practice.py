"""The mark of invented sets of readings, by which nobody takes one for a test."""

PRACTICE = "practice, invented"
"""Stands in the batch and the notes of each."""
