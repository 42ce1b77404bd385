"""How likely a sortie ends in time, by many runs with durations drawn at random."""
