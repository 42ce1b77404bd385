"""What `mkdocs build` takes over from the last build: the whole site, finished pages, results of long searches."""
