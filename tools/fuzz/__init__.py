"""Random input for everything that reads what somebody wrote; see `python -m fuzz --help`."""
