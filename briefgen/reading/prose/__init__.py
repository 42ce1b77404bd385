"""The author's own Markdown pages: their texts, and what of them does not go into the site."""
