"""The music being read, and what became of it."""
