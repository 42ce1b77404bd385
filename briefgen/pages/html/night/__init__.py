"""An author's drawing in the dark: the same file with a second palette, worked out from its own colours."""
