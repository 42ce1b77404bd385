"""Time: limits, waits, day and night."""
