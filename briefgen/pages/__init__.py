"""From evidence to pages: views give rows that are ready to print, templates print them."""
