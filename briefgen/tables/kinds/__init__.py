"""The tables, one module a matter: whatever `TABLE` is in here or in a room of it is found by being here."""
