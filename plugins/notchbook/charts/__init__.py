"""A figure in, an SVG string out; no file is written here."""
