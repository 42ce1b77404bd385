"""Rows of tools, bags, equipment and records."""
