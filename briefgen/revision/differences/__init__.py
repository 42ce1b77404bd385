"""Differences: one module a kind of what can differ."""
