"""By when tasks must begin, what to leave out when late, and what fits when early."""
