"""Custody: where tools and bags are, and who carries how much."""
