"""How often the intervals that are shown hold what they are meant to hold: classes are simulated and counted."""
