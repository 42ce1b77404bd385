"""One module a kind of page. Each has `pages(context)`; a new kind of page is one new file here."""
