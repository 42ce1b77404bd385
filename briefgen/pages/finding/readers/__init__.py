"""Who reads: each person and the instructor, with the few pages that are theirs in each sortie."""
