"""Drawing: the stills' SVG, their patterns, letters and sizes."""
