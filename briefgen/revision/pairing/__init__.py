"""Pairing: what of one version is which of the other."""
