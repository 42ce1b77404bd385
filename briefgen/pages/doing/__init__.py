"""Rows of what is done: steps and everything beside them."""
