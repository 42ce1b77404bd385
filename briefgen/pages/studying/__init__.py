"""Rows of what is told and learned."""
