"""Charts: each file draws one, as a still, as a live figure and as a table, all from the same rows."""
