"""Resources: what suits carry, and what is used up."""
