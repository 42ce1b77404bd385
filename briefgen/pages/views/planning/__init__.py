"""Pages for who plans and decides."""
