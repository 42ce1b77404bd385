"""How findings look outside a page: text for people, and the forms that other programs read."""
