"""Pages made to be printed."""
