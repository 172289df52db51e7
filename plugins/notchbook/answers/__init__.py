"""What somebody worked out, held against what the readings give: the slips that are known, and what each would give."""
