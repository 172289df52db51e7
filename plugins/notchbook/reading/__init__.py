"""Data files to model: strict YAML with positions, schemas, and everything that can be wrong with a file as such."""
