"""The search: what can be found by name, and the one file in which a browser looks."""
