"""What closes up: which steps and ways back, and what they rely on."""
