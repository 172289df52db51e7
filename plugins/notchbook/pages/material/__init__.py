"""Pages of materials, with comparisons of their records."""
