"""A JSON Schema for editors, generated from the model."""
