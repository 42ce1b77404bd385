"""When the sortie does not go as planned."""
