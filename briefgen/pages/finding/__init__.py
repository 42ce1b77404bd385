"""How readers find their way: what can be found by name, the file in which a browser looks, and who reads."""
