"""Pages of rigs and of their verifications and losses."""
