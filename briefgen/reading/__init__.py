"""From files to records: every value keeps its place, and every mistake in one run becomes one finding."""
