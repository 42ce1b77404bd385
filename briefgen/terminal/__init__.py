"""A sortie in the terminal: its timeline, holds, margins, supplies and light as tables."""
