"""Pages of what there is: tools, equipment, places, figures, hazards."""
