"""What must hold: one file a family, one small generator a rule."""
