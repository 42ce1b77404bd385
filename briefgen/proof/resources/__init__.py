"""Resources: supplies of the suits, day and night."""
