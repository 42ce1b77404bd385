"""A sortie's tables, each once, as data: pages, terminal and files show the same rows."""
