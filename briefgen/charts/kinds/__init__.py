"""Kinds of charts: one module or folder each, found by being there."""
