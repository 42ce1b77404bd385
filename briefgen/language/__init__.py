"""English texts, looked at as text: sentences, words, and the verbs of commands. Knows no record."""
