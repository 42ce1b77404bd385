"""What differs between two versions of the content, in the plan's terms. Pure: two versions go in, rows come out."""
