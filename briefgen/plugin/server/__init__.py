"""While somebody writes: the last good site is served, and what is wrong stands on every page."""
