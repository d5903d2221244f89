"""What stands in the tables, into the log and back."""
