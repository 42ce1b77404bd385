"""Pages for telling and learning."""
