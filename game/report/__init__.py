"""Pages for the player and the teacher, on paper and in files."""
