"""What is kept from build to build: where it lies, how it is known to be whole, and by what it is found again."""
