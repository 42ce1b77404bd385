"""The tables, one module a matter: whatever `TABLE` is in here is found by being here."""
