"""Order: what is guaranteed whatever the durations turn out to be."""
