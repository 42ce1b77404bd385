"""What people carry along and read aloud: cards, the reader's card, the arm sheet, the booklet of a sortie."""
