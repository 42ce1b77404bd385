"""Tools and bags: at hand, in nobody's way, and home again."""
