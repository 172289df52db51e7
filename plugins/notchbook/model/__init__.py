"""The laboratory's things as plain frozen values, one module a kind of file; the unit stands in the name."""
