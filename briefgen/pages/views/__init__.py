"""One module a kind of page. Each has `pages(desk)`; a new kind of page is one new file here."""
