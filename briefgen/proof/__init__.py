"""The proof: pure functions from the records to what holds, each concept in a room of its own."""
