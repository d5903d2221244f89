"""The music desk: paper, type, pencil marks, the drawing of neck and staff."""
