"""What is left open where everybody turns home, and the written steps that close it."""
