"""Schedule: earliest and latest times, and who waits for whom."""
