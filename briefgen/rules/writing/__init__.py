"""Writing: sentences that can be obeyed, heard and kept in mind."""
