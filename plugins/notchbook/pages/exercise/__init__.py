"""Pages of exercises: cautions, steps, drawings, hammers, worksheet."""
