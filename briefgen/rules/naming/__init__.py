"""Names: everything that is named exists, once, means one thing and is used."""
