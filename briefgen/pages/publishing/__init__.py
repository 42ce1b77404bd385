"""The whole site: its pages in order, kept while nothing changed."""
