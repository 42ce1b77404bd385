"""Equipment: its states, what they control, and how everything ends."""
