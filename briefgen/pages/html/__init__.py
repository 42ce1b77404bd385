"""HTML: templates, texts, links of scripts, and what a page may run."""
