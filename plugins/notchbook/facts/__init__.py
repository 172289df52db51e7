"""What is known of a handbook, for whoever shows it: each object resolved once, its questions in the trade's words."""
