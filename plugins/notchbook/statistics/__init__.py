"""Pure functions that summarise a set of values and look for outliers in it."""
