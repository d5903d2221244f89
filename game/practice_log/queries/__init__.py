"""What a log comes to: questions in SQL, read in bulk."""
