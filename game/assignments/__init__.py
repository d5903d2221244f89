"""What a teacher sets: map, music, stages and tempi in one short file."""
