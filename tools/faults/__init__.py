"""Every number of the demo changed one at a time, and whether the check says something."""
