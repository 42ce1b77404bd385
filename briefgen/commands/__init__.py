"""What the command `briefgen` can do: one verb a module in `verbs`, and what they share."""
