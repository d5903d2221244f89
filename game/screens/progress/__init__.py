"""What practice came to: figures, days, the book of passages."""
