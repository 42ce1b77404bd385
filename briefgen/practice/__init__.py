"""Questions made from the proved plan, which answers are offered with them, and what a learner's results look like."""
