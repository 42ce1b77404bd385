"""Figures' files: what they are by their own bytes, and that they are nothing else."""
