"""Pages on which groups that broke the same are compared, a page a half-year."""
