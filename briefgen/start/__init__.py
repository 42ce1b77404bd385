"""A small complete briefing to begin with: the files of `briefgen start`."""
