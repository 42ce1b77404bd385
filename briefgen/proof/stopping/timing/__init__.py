"""How long closing up takes."""
