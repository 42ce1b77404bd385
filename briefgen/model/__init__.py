"""The records of the format: typed, frozen, described. The one source of the JSON Schema and the reference page."""
