"""Rows for who plans and decides."""
