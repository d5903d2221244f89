"""The music desk: paper, type, pencil marks, the drawing of the neck, and the text catalogue."""
