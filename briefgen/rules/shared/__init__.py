"""Shared by families: whether a name is there, lines to paste, races, and small plans for examples. No rules here."""
