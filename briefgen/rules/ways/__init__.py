"""Travel: ways, places, tethers and restraints."""
