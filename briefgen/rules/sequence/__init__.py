"""Order: flows, prerequisites, and sortie after sortie."""
