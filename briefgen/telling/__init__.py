"""The told sortie: what is shown and said, scene after scene, and how long it takes to say."""
