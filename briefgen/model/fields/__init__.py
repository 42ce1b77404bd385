"""Fields: the values that records are made of, their limits, and references with their places."""
