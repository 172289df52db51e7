"""Nothing."""
