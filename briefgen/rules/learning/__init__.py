"""Learning: what is taught, told and asked."""
