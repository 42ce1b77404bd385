"""The format as tables, generated from the model: what the reference page shows."""
