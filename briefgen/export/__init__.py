"""A timeline as a file for other programs: CSV, JSON and iCalendar."""
