"""Sheets for paper: bench sheets, wall cards, look-up tables."""
