"""Cost of a check and of a build, as ratios to tools that do a part of the same work, measured in one run."""
