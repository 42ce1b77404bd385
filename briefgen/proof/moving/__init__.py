"""Travel: ways, tethers, and who is where."""
