"""Interactive: Plotly's figures, its script cut to size, and both as HTML."""
