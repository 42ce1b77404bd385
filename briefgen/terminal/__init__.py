"""A sortie in the terminal: its timeline, holds, margins, supplies, light and stops as tables."""
